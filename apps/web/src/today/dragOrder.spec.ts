import { describe, expect, it } from 'vitest'
import { movedTo, placeAt } from './dragOrder.ts'

describe('a row drawn to another place', () => {
  it('stands below the rows whose middles it has passed', () => {
    expect([10, 40, 70, 200].map((heldPx) => placeAt([24, 72, 120], heldPx))).toEqual([0, 1, 1, 3])
  })
  it('changes places with no others', () => {
    expect(movedTo(['a', 'b', 'c', 'd'], 'a', 2)).toEqual(['b', 'c', 'a', 'd'])
    expect(movedTo(['a', 'b', 'c', 'd'], 'd', 0)).toEqual(['d', 'a', 'b', 'c'])
    expect(movedTo(['a', 'b', 'c'], 'b', 1)).toEqual(['a', 'b', 'c'])
  })
})
