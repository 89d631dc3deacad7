import { describe, expect, it } from 'vitest'
import { matrixTravel, noWaySeconds, straightLineTravel } from './travel.ts'
import { riskWeightOf, serviceMinutes } from './weights.ts'

const points = [
  { key: 'visit:a', longitude: 0, latitude: 0 },
  { key: 'visit:b', longitude: 0.001, latitude: 0 },
  { key: 'visit:c', longitude: 0.1, latitude: 0 },
]

describe('straight lines', () => {
  // One degree of the equator is 111,319.49 m on WGS84 (π/180 × 6,378,137 m), so b lies 111.32 m and c 11,131.9 m east of a.
  it('walks short ways and drives long ones, with the detour and the parking', () => {
    const answer = straightLineTravel({
      detourFactor: 1.2,
      walkMetresPerSecond: 1,
      driveMetresPerSecond: 10,
      parkMinutes: 3,
    }).matrix(points)
    if (!answer.ok) throw new Error('refused')
    expect(answer.value.seconds[1]).toBe(Math.round(111.31949 * 1.2))
    expect(answer.value.seconds[2]).toBe(Math.round((11131.949 * 1.2) / 10 + 180))
    expect(answer.value.seconds[2 * 3]).toBe(answer.value.seconds[2])
    expect(answer.value.metres(0, 2)).toBe(Math.round(11131.949 * 1.2))
    expect(answer.value.source).toContain('× 1.2')
  })

  it.each([
    { detourFactor: 0.9 },
    { walkMetresPerSecond: 0 },
    { driveMetresPerSecond: Number.NaN },
    { parkMinutes: -1 },
  ])('refuses %o', (settings) => {
    const answer = straightLineTravel(settings).matrix(points)
    expect(answer.ok || answer.refusals.map((one) => one.code)).toEqual(['out-of-range'])
  })
})

describe('a matrix worked out elsewhere', () => {
  const given = {
    keys: ['visit:b', 'visit:a'],
    seconds: [0, 5.4, 7, 0],
    metres: [0, 50, 70, 0],
    source: 'walking graph',
    asOf: '2026-11-01',
  }

  it('is read by name, both ways apart, and says where it comes from', () => {
    const answer = matrixTravel(given).matrix(points.slice(0, 2))
    if (!answer.ok) throw new Error('refused')
    expect([...answer.value.seconds]).toEqual([0, 7, 5, 0])
    expect([answer.value.metres(0, 1), answer.value.metres(1, 0)]).toEqual([70, 50])
    expect([answer.value.source, answer.value.asOf]).toEqual(['walking graph', '2026-11-01'])
  })

  it('takes a missing way as no way', () => {
    const answer = matrixTravel({ ...given, seconds: [0, Number.NaN, -1, 0] }).matrix(points.slice(0, 2))
    expect(answer.ok && [...answer.value.seconds]).toEqual([0, noWaySeconds, noWaySeconds, 0])
  })

  it.each([
    ['unknown', given, points],
    ['malformed', { ...given, seconds: [0, 1] }, points.slice(0, 2)],
  ])('refuses: %s', (code, matrix, asked) => {
    const answer = matrixTravel(matrix).matrix(asked)
    expect(answer.ok || answer.refusals.map((one) => one.code)).toEqual([code])
  })
})

describe('weights', () => {
  it('a longer overdue or worse word always weighs more, up to the cap', () => {
    const words = ['low', 'moderate', 'high', 'extreme'] as const
    const rising = words.map((word) => riskWeightOf(word, 10))
    expect(rising).toEqual(rising.toSorted((a, b) => a - b))
    expect(riskWeightOf('high', 45)).toBe(1.5 * riskWeightOf('high', 0))
    expect(riskWeightOf('high', 900)).toBe(2 * riskWeightOf('high', 0))
    expect(riskWeightOf('high', -5)).toBe(riskWeightOf('high', 0))
    expect(riskWeightOf(null)).toBe(riskWeightOf('moderate'))
  })

  it('a higher level takes longer', () => {
    expect(serviceMinutes(1)).toBeLessThan(serviceMinutes(2))
    expect(serviceMinutes(2)).toBeLessThan(serviceMinutes(3))
    expect(serviceMinutes(3, { 1: 1, 2: 2, 3: 90 })).toBe(90)
  })
})
