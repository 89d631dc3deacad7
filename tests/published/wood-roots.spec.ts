import { type RootZoneId, rootZones } from '@underbough/wood'
import { describe, expect, it } from 'vitest'

function zone(id: RootZoneId, stemsCm: number[], buttressDiameterCm: number | null = null) {
  const answer = rootZones({ stemsCm, buttressDiameterCm })
  if (!answer.ok) throw new Error(answer.refusals.map((one) => one.code).join())
  return answer.value.zones.find((one) => one.id === id)!
}

describe('BS 5837:2012', () => {
  // 12 × diameter, area held at 707 m²; radius and area as printed in planning guides, one decimal (0.75 and 1.25 m from the rule).
  it.each([
    [0.1, 1.2, 4.5],
    [0.3, 3.6, 40.7],
    [0.5, 6, 113.1],
    [0.75, 9, 254.5],
    [1, 12, 452.4],
    [1.25, 15, 706.9],
    [1.5, 15, 707],
  ])('%d m: radius %d m, %d m²', (diameterM, radiusM, areaM2) => {
    const got = zone('bs-5837', [diameterM * 100])
    expect(got.radiusM).toBeCloseTo(radiusM, 9)
    expect(Math.abs(got.areaM2 - areaM2)).toBeLessThan(0.06)
  })

  // Two to five stems √Σd²: from the standard. More than five √(mean² × n): from memory.
  it.each([
    [[20, 30, 25], 43.87, 'seen'],
    [[30, 40], 50, 'seen'],
    [Array(7).fill(15), 39.69, 'memory'],
  ])('stems %j stand as %d cm', (stems, diameterCm, basis) => {
    const got = zone('bs-5837', stems)
    expect(Math.abs(got.diameterCm - diameterCm)).toBeLessThan(0.01)
    expect(got.basis).toBe(basis)
  })

  it('changes its rule at the sixth stem: uneven stems show it', () => {
    // √(8² × 6) from the mean, against √Σd² = 21.8 (by hand)
    expect(zone('bs-5837', [4, 4, 4, 4, 12, 20]).diameterCm).toBeCloseTo(Math.sqrt(64 * 6), 9)
  })
})

describe('AS 4970-2009', () => {
  // The standard's rule as restated in an Australian practice guide: 12 × diameter between 2 and 15 m.
  it.each([
    [0.1, 2],
    [0.3, 3.6],
    [0.5, 6],
    [1.5, 15],
  ])('protection zone of %d m: %d m', (diameterM, radiusM) => {
    expect(zone('as-4970-protection', [diameterM * 100]).radiusM).toBeCloseTo(radiusM, 9)
  })

  // (D × 50)^0.42 × 0.64, and 1.5 m under 0.15 m.
  it.each([
    [0.1, 1.5],
    [0.15, 1.492],
    [0.3, 1.996],
    [0.5, 2.474],
    [1, 3.309],
  ])('structural root zone of %d m over the buttress: %d m', (diameterM, radiusM) => {
    expect(zone('as-4970-structural', [20], diameterM * 100).radiusM).toBeCloseTo(radiusM, 3)
  })

  it('says so where the stem stands in for the buttress', () => {
    expect(zone('as-4970-structural', [30]).domain).toMatch(/stands in/)
    expect(zone('as-4970-structural', [30], 36).domain).not.toMatch(/stands in/)
  })
})

describe('feet for each inch, and a trench', () => {
  // City of Vancouver (Washington) code 20.170.100; North Carolina State University extension; City of Edina (Minnesota).
  it.each([
    ['foot-per-inch', 12, 12],
    ['five-quarter-feet-per-inch', 12, 15],
    ['foot-and-a-half-per-inch', 10, 15],
  ] as const)('%s: %d in give %d ft', (id, inches, feet) => {
    expect(zone(id, [inches * 2.54]).radiusM / 0.3048).toBeCloseTo(feet, 9)
  })

  it('keeps a trench three diameters away (Smiley 2008)', () => {
    expect(zone('trench-three-diameters', [60]).radiusM).toBeCloseTo(1.8, 12)
  })
})

it('lists every rule with its source, says whose rule governs, and refuses a tree without stems', () => {
  const answer = rootZones({ stemsCm: [40] })
  expect(answer.ok && answer.value.zones.every((one) => one.source && one.domain)).toBe(true)
  expect(answer.ok && answer.value.sentence).toMatch(/local rule governs/)
  const none = rootZones({ stemsCm: [] })
  expect(none.ok ? [] : none.refusals.map((one) => one.code)).toEqual(['required'])
})
