import { describe, expect, it } from 'vitest'
import { gustEnds, gustWords } from './words.ts'

describe('a range of gusts in words', () => {
  it('is rounded outwards to 5 in every unit', () => {
    // By hand: 25 m/s is 90 km/h and 55.9 mph, 40 m/s is 144 km/h and 89.5 mph.
    expect(gustEnds(27.3, 38.1)).toEqual({
      least: { mps: 25, kmh: 90, mph: 55 },
      most: { mps: 40, kmh: 145, mph: 90 },
    })
    expect(gustWords(gustEnds(27.3, 38.1))).toBe('from about 25 to 40 m/s (90 to 145 km/h, 55 to 90 mph)')
  })

  it.each([
    [30, 60, false, false],
    [30, 60.2, false, true],
    [60.2, 70, true, true],
    [62, 90, true, true],
  ])('%d to %d m/s: what lies above 60 has no number', (least, most, noLeast, noMost) => {
    const ends = gustEnds(least, most)
    expect([ends.least === null, ends.most === null]).toEqual([noLeast, noMost])
    expect(/above 60 m\/s, beyond what this can say/.test(gustWords(ends))).toBe(noMost)
  })
})
