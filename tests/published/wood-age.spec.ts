import {
  ageOf,
  defaultYearsToHeight,
  missingRings,
  pithFromArc,
  reachOf,
  recentGrowth,
} from '@underbough/wood'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'

/**
 * Distance to a missed pith from chord and height of the innermost complete arc: r = L²/8h + h/2 and, from the chord, r − h; rings at 2 mm.
 * Source: plane geometry as in Duncan 1989; both lengths stand in public code for tree rings under alike names. Columns: L, h, r, r − h, r/2.
 */
const arcs = [
  [10, 1, 13, 12, 6.5],
  [20, 2, 26, 24, 13],
  [30, 5, 25, 20, 12.5],
  [40, 8, 29, 21, 14.5],
  [25, 0.5, 156.5, 156, 78.25],
  [20, 10, 10, 0, 5],
] as const

function value<T>(outcome: { ok: true; value: T } | { ok: false; refusals: { code: string }[] }): T {
  if (!outcome.ok) throw new Error(outcome.refusals.map((one) => one.code).join())
  return outcome.value
}

describe('distance to a missed pith', () => {
  it.each(arcs)('chord %d, height %d', (chordMm, arcHeightMm, radius, remaining, rings) => {
    const arc = { chordMm, arcHeightMm }
    const distance = value(pithFromArc(arc))
    expect(distance.arcRadiusMm).toBeCloseTo(radius, 10)
    expect(distance.remainingMm).toBeCloseTo(remaining, 10)
    const missing = value(missingRings(arc, { innermostRingsMm: [2, 2, 2] }))!
    expect(missing.middle).toBeCloseTo(rings, 10)
    expect(missing.least).toBeLessThanOrEqual(rings)
    expect(missing.most).toBeGreaterThanOrEqual(rings)
  })

  it('finds the radius of any circle cut by a chord', () => {
    // Circle of radius r and a chord seen under the angle 2a from its middle: L = 2 r sin a, h = r (1 − cos a).
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 300, noNaN: true }),
        fc.double({ min: 0.15, max: 1.56, noNaN: true }),
        (r, a) => {
          const arc = { chordMm: 2 * r * Math.sin(a), arcHeightMm: r * (1 - Math.cos(a)) }
          const distance = value(pithFromArc(arc))
          expect(distance.arcRadiusMm / r).toBeCloseTo(1, 9)
          expect(distance.remainingMm / r).toBeCloseTo(Math.cos(a), 9)
        },
      ),
    )
  })

  it('refuses an arc over half a circle', () => {
    const answer = pithFromArc({ chordMm: 20, arcHeightMm: 11 })
    expect(answer.ok ? [] : answer.refusals.map((one) => one.code)).toEqual(['pith-arc'])
  })

  it('takes the three innermost rings, and what is left from the chord where counting went on to it', () => {
    const arc = { chordMm: 20, arcHeightMm: 2 }
    const three = value(missingRings(arc, { innermostRingsMm: [1, 2, 3, 90] }))!
    expect(three.meanWidthMm).toBe(2)
    expect([three.least, three.most]).toEqual([8, 26]) // 26 mm over the widest, 3 mm, and the narrowest, 1 mm
    expect(value(missingRings(arc, { innermost10mmRings: 5 }, 'chord'))!.middle).toBe(12)
    expect(value(missingRings(arc, {}))).toBeNull()
  })
})

describe('age', () => {
  const core = { ringsCounted: 80, heightM: 0, yearSampled: 2026 }

  it('is the rings themselves where the pith was reached at the ground', () => {
    const age = value(ageOf({ ...core, pith: { reached: true } }))
    expect([age.leastYears, age.mostYears]).toEqual([80, 80])
    expect(age.germinated).toEqual({ from: 1946, to: 1946 })
  })

  it('says "at least" where nothing bounds what is missing', () => {
    const arc = { reached: false as const, chordMm: 20, arcHeightMm: 2 }
    for (const pith of [null, arc]) {
      const age = value(ageOf({ ...core, pith }))
      expect([age.leastYears, age.mostYears, age.germinated.from]).toEqual([80, null, null])
      expect(age.sentence).toMatch(/^At least 80 years/)
    }
  })

  it('adds missing rings and years to the height, typed in or by default and marked', () => {
    const pith = { reached: false as const, chordMm: 20, arcHeightMm: 2 }
    const input = { ...core, heightM: 1.3, pith, innermostRingsMm: [2, 2, 2] }
    const typed = value(ageOf({ ...input, yearsToHeight: { least: 4, most: 6 } }))
    expect(typed.leastYears).toBe(80 + 10 + 4) // 26 mm at 2.5 mm a ring
    expect(typed.mostYears).toBe(80 + 17 + 6) // 26 mm at 1.6 mm a ring
    expect(typed.germinated).toEqual({ from: 2026 - 103, to: 2026 - 94 })
    const byDefault = value(ageOf(input))
    expect(byDefault.parts.map((part) => part.mark)).toEqual(['measured', 'estimated', 'defaulted'])
    expect(byDefault.parts[2]).toMatchObject(defaultYearsToHeight(1.3))
    // By hand, at 0.6 and 0.15 m a year (assumption): 2.2 and 8.7 years, outwards.
    expect(defaultYearsToHeight(1.3)).toEqual({ least: 2, most: 9 })
    expect(byDefault.mostYears!).toBeGreaterThan(byDefault.leastYears)
  })
})

it('growth: ten rings in 25 mm are 2.5 mm a year on the radius and 5 mm on the diameter', () => {
  expect(value(recentGrowth(25))).toEqual({ ringMmPerYear: 2.5, diameterMmPerYear: 5 })
})

describe('reach of a borer', () => {
  it('of 16 in leaves the centre of a stem over 32 in across unread (common practice, no source)', () => {
    const inches = (diameter: number) =>
      value(reachOf({ radiusCm: (diameter / 2) * 2.54, barkCm: 0, borerLengthCm: 16 * 2.54 }))
    expect(inches(32).unreadCm).toBeCloseTo(0, 9)
    expect(inches(32).longestBorer.unreadCm).toBeCloseTo(0, 9)
    expect(inches(40).unreadCm).toBeCloseTo(4 * 2.54, 9)
    expect(inches(40).longestBorer.unreadCm).toBeCloseTo(4 * 2.54, 9)
    expect(inches(40).sampledShare).toBeCloseTo(0.8, 9)
  })

  it('takes the bark off, and comes no nearer than its closest point when aimed past the middle', () => {
    const straight = value(reachOf({ radiusCm: 32, barkCm: 2, borerLengthCm: 40, reachedCm: 17 }))
    expect(straight.sampledShare).toBeCloseTo(0.5, 12)
    const past = value(reachOf({ radiusCm: 30, barkCm: 0, borerLengthCm: 60, offRadiusDeg: 30 }))
    expect(past.unreadCm).toBeCloseTo(15, 12) // R sin 30°
  })

  it.each([
    ['reading-past-borer', { radiusCm: 30, barkCm: 1, borerLengthCm: 20, reachedCm: 21 }],
    ['reading-past-stem', { radiusCm: 10, barkCm: 1, borerLengthCm: 40, reachedCm: 21 }],
    ['out-of-range', { radiusCm: 10, barkCm: 11, borerLengthCm: 40 }],
  ])('refuses: %s', (code, input) => {
    const answer = reachOf(input)
    expect(answer.ok ? [] : answer.refusals.map((one) => one.code)).toEqual([code])
  })
})
