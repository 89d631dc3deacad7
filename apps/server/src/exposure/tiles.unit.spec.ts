import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { joinSquares } from './tiles.ts'

describe('squares of a pass', () => {
  const town = fc.uniqueArray(
    fc.record({ place: fc.integer({ min: 0, max: 4 ** 6 - 1 }), trees: fc.integer({ min: 1, max: 30 }) }),
    { selector: ({ place }) => place, minLength: 1, maxLength: 200 },
  )
  it('hold every tree once, each no more than it may unless it is one of the smallest', () => {
    fc.assert(
      fc.property(town, fc.integer({ min: 1, max: 200 }), (squares, most) => {
        const tiles = joinSquares(squares, most)
        for (const { place, trees } of squares) {
          const over = tiles.filter((tile) => Math.floor(place / 4 ** (18 - tile.level)) === tile.place)
          expect(over.length).toBe(1)
          expect(trees).toBeLessThanOrEqual(over[0]!.trees)
        }
        const all = (list: { trees: number }[]) => list.reduce((sum, { trees }) => sum + trees, 0)
        expect(all(tiles)).toBe(all(squares))
        for (const { level, trees } of tiles) expect(trees <= most || level === 18).toBe(true)
      }),
    )
  })

  it('are joined where four neighbours hold few trees', () => {
    const four = [8, 9, 10, 11].map((place) => ({ place, trees: 10 }))
    // Two levels up they are the squares 2 and 0; joined as far as writers wait for each other, level 14.
    expect(joinSquares(four, 40)).toEqual([{ level: 14, place: 0, trees: 40 }])
    expect(joinSquares(four, 39).map(({ level }) => level)).toEqual([18, 18, 18, 18])
  })
})
