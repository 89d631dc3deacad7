import {
  exposureOfSilhouette,
  hourClasses,
  type Lobe,
  lobesOf,
  type Silhouette,
  silhouetteAreaM2,
  type ZoneAround,
} from '@underbough/exposure'
import { describe, expect, it } from 'vitest'
import { circularNormal, even, leanLobes } from './exposure-directions.ts'
import {
  crowned,
  ellipseRows,
  polygonRows,
  ringOf,
  specialRows,
  strip,
  swallowingRows,
} from './exposure-rows.ts'

const zoneOf = (rings: [number, number][][], people: number, id = 'zone'): ZoneAround => {
  const area = (r: [number, number][]) =>
    Math.abs(
      r.reduce((s, [x, y], i) => s + x * r[(i + 1) % r.length]![1] - r[(i + 1) % r.length]![0] * y, 0),
    ) / 2
  return {
    id,
    polygons: [rings],
    areaM2: area(rings[0]!) - rings.slice(1).reduce((s, r) => s + area(r), 0),
    hours: hourClasses(new Array(168).fill(people)),
    staticTarget: false,
  }
}
const box = (x0: number, x1: number, y0: number, y1: number): [number, number][] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
]
const one = (silhouette: Silhouette, lobes: Lobe[], zone: ZoneAround) =>
  exposureOfSilhouette(silhouette, lobes, [zone]).zones[0]!

describe('polygons against quadrature and simulation (reference rows of exposure-rows.ts)', () => {
  it.each(polygonRows)('$silhouette on $ring', (row) => {
    const zone = zoneOf([ringOf(row.ring)], 3)
    const got = one(row.silhouette, even, zone)
    const areaM2 = (got.people.mean / 3) * zone.areaM2
    expect(areaM2).toBeCloseTo(row.areaM2, 4)
    expect(Math.abs(areaM2 - row.simulatedArea[0])).toBeLessThan(4 * row.simulatedArea[1])
    expect(got.pTouch.mean).toBeCloseTo(row.pTouch, 8)
    expect(Math.abs(got.pTouch.mean - row.simulatedTouch[0])).toBeLessThan(4 * row.simulatedTouch[1])
    expect(got.pAny).toBeCloseTo(row.anyOfThree, 5)
    expect(Math.abs(got.pAny - row.simulatedAny[0])).toBeLessThan(4 * row.simulatedAny[1])
  })
  it.each(ellipseRows)('$silhouette on $ring', (row) => {
    const zone = zoneOf([row.ring, ...(row.hole ? [row.hole] : [])].map(ringOf), 1)
    const got = one(row.silhouette, even, zone)
    const areaM2 = got.people.mean * zone.areaM2
    expect(areaM2).toBeCloseTo(row.areaM2, 4)
    expect(Math.abs(areaM2 - row.simulatedArea[0])).toBeLessThan(4 * row.simulatedArea[1])
    expect(got.pTouch.mean).toBeCloseTo(row.pTouch, 8)
    expect(Math.abs(got.pTouch.mean - row.simulatedTouch[0])).toBeLessThan(4 * row.simulatedTouch[1])
  })
})

describe('zones with people (reference rows)', () => {
  it.each(specialRows)('$name', (row) => {
    const got = one(row.silhouette, row.lean ? leanLobes : even, zoneOf([ringOf(row.ring)], row.people))
    expect(Math.abs(got.people.mean - row.mean)).toBeLessThan(2e-6)
    expect(Math.abs(got.pAny - row.pAny)).toBeLessThan(2e-6)
    expect(Math.abs(got.pTouch.mean - row.pTouch)).toBeLessThan(2e-6)
    expect(Math.abs(-Math.expm1(-got.people.mean) - row.oneMinusExp)).toBeLessThan(2e-6)
  })
  it.each(swallowingRows)('a zone that holds every fall of %o', (silhouette, areaM2) => {
    for (const lobes of [even, leanLobes, lobesOf(leaning)]) {
      const got = one(silhouette, lobes, zoneOf([box(-40, 40, -40, 40)], 6400))
      expect(got.people.mean).toBeCloseTo(areaM2, 7)
      expect(got.pTouch.mean).toBeCloseTo(1, 12)
    }
    expect(silhouetteAreaM2(silhouette)).toBeCloseTo(areaM2, 7)
  })
})

const leaning = {
  heightM: 20,
  stemDiameterCm: 50,
  crownBaseHeightM: 6,
  crownRadiiM: { n: 5, e: 3, s: 2, w: 3 },
  lean: { bearingDeg: 200, angleDeg: 12 },
  clearingBearingDeg: 90,
  windRose: [0, 0, 0, 0, 0, 0, 0, 0, 0, 0.5, 0.3, 0.2, 0, 0, 0, 0],
}

describe('zones of one tree (reference rows: people)', () => {
  it('joins opposite zones at each bearing', () => {
    const zones = [zoneOf([box(6, 12, -3, 3)], 5, 'a'), zoneOf([box(-12, -6, -3, 3)], 5, 'b')]
    const got = exposureOfSilhouette(strip(18, 2), even, zones)
    expect(got.zones[0]!.pAny).toBeCloseTo(0.14308, 4)
    expect(Math.abs(got.joint.pAny - 0.28616)).toBeLessThan(2e-5)
    expect(got.joint.people.mean).toBeCloseTo(got.zones[0]!.people.mean * 2, 12)
  })
  it('joins zones on the same side, where the product rule would say 0.27196', () => {
    const zones = [zoneOf([box(6, 8, -3, 3)], 5, 'a'), zoneOf([box(8, 12, -3, 3)], 5, 'b')]
    const got = exposureOfSilhouette(strip(18, 2), even, zones)
    expect(Math.abs(got.zones[0]!.pAny - 0.16998)).toBeLessThan(2e-5)
    expect(Math.abs(got.zones[1]!.pAny - 0.12287)).toBeLessThan(2e-5)
    expect(Math.abs(got.joint.pAny - 0.17936)).toBeLessThan(2e-5)
    expect(got.flags).toEqual([])
  })
  it('counts the same people when a zone is split', () => {
    const whole = one(strip(18, 2), even, zoneOf([box(6, 12, -3, 3)], 5))
    const halves = exposureOfSilhouette(strip(18, 2), even, [
      zoneOf([box(6, 9, -3, 3)], 2.5, 'a'),
      zoneOf([box(9, 12, -3, 3)], 2.5, 'b'),
    ])
    expect(Math.abs(whole.people.mean - 0.3635)).toBeLessThan(1e-6)
    expect(Math.abs(halves.joint.people.mean - 0.3635)).toBeLessThan(1e-6)
    expect(Math.abs(halves.joint.pAny - whole.pAny)).toBeLessThan(1e-6)
  })
  it('is linear in the directions, and ringed by the pure ones', () => {
    const zone = zoneOf([box(3, 8, 2, 6)], 1)
    const pure = [even, circularNormal(0, 12), circularNormal(Math.PI, 6)]
    const each = pure.map((lobes) => one(strip(18, 3), lobes, zone).people.mean)
    for (const [i, value] of [0.15051, 0.32374, 7e-5].entries())
      expect(Math.abs(each[i]! - value)).toBeLessThan(1e-5)
    const mixed = pure.map((lobes, i) => ({ ...lobes[0]!, weight: [0.2, 0.5, 0.3][i]! }))
    const got = one(strip(18, 3), mixed, zone).people
    expect(Math.abs(got.mean - 0.19199)).toBeLessThan(1e-5)
    expect(got.least).toBeCloseTo(each[2]!, 9)
    expect(got.most).toBeCloseTo(each[1]!, 9)
  })
  it('a body half width of 0.25 m more than doubles what a thin stem covers', () => {
    const zone = zoneOf([box(5, 7, -10, 10)], 40)
    const [point, body] = [0.2, 0.45].map((w) => one(strip(18, w), even, zone).people.mean)
    expect(Math.abs(point! - 0.32824626)).toBeLessThan(1e-6)
    expect(Math.abs(body! - 0.73893697)).toBeLessThan(2e-6)
  })
  it('a road is drawn as it is, never stretched by the stopping distance (reference rows: vehicles)', () => {
    const touch = (by: number) =>
      one(strip(18, 3), even, zoneOf([box(10, 16.5, -10 - by, 10 + by)], 1)).pTouch.mean
    expect(Math.abs(touch(0) - 0.318)).toBeLessThan(5e-4)
    expect(Math.abs(touch(63) - 0.368)).toBeLessThan(5e-4)
  })
  it('a crown that is a disc and one that is an ellipse of equal axes agree with the strip when it has none', () => {
    const zone = zoneOf([box(3, 8, 2, 6)], 1)
    const thin = one(crowned(3, 18 - 1e-7, 1e-7, 1e-7), even, zone)
    expect(thin.people.mean).toBeCloseTo(one(strip(18, 3), even, zone).people.mean, 6)
  })
})
