/**
 * Slope, shelter and the limb's outline against reference rows computed apart from this program by seeded scripts, each
 * with its standard error or tolerance, and against closed forms.
 */
import {
  arrestOf,
  defaultExposurePolicy,
  exposureOfSilhouette,
  hourClasses,
  planShare,
  reachOf,
  silhouetteAreaM2,
  type ZoneAround,
} from '@underbough/exposure'
import { describe, expect, it } from 'vitest'
import { even } from './exposure-directions.ts'
import { capsule, strip } from './exposure-rows.ts'

const box = (id: string, x: [number, number], y: [number, number], people: number): ZoneAround => ({
  id,
  polygons: [
    [
      [
        [x[0], y[0]],
        [x[1], y[0]],
        [x[1], y[1]],
        [x[0], y[1]],
      ],
    ],
  ],
  areaM2: (x[1] - x[0]) * (y[1] - y[0]),
  hours: hourClasses(new Array(168).fill(people)),
  staticTarget: false,
})

describe('plan reach of 20 m on a slope of 30° (reference rows)', () => {
  it.each([
    ['downhill', 90, 17.3205081],
    ['uphill', 270, 17.3205081],
    ['across', 0, 20],
    ['at 45°', 45, 18.516402],
  ])('%s', (_, downhillBearingDeg, reachM) => {
    // Angle 0 is east, bearing 90°.
    expect(Math.abs(20 * planShare({ downhillBearingDeg, angleDeg: 30 }, 0) - reachM)).toBeLessThan(1e-6)
  })
})

describe('a stem laid on a wall (reference rows)', () => {
  it.each([
    [20, 6, 10, 3, 26.56505, 11.18034, 8.81966, 17.88854],
    [20, 6, 10, 8, 53.1301, 16.66667, 3.33333, 12],
    [16, 6, 14, 6, 45, 19.79899, 0, 11.31371],
  ])('%d m over a wall from %d to %d m, %d m high', (length, near, far, height, rest, edge, over, plan) => {
    const got = arrestOf(length, near, far, height)
    expect(Math.abs(got.restAngleDeg - rest)).toBeLessThan(1e-5)
    expect(Math.abs(got.toFarEdgeM - edge)).toBeLessThan(1e-5)
    expect(Math.abs(got.overhangM - over)).toBeLessThan(1e-5)
    expect(Math.abs(got.planReachM - plan)).toBeLessThan(1e-5)
  })
})

describe('a wall 6 to 8 m out before a zone 10 to 14 m out, per person (reference rows, s.e. 0.00014)', () => {
  // The rows let nothing through a wall: both shares are set to 0 here.
  const shelter = { ...defaultExposurePolicy.shelter, residual: 0, least: 0 }
  it.each([
    [null, 0.0803],
    [0.3, 0.05703],
    [1, 0.03159],
    [3, 0],
    [6, 0],
  ])('half width %d m', (half, perPerson) => {
    const wall = {
      ...box('wall', [6, 8], [-(half ?? 1), half ?? 1], 0),
      shelter: null as ZoneAround['shelter'],
    }
    if (half) wall.shelter = { heightM: 20, class: 'masonry' }
    const got = exposureOfSilhouette(strip(18, 3), even, [wall, box('z', [10, 14], [-3, 3], 1)], {
      stemDiameterCm: 50,
      policy: { ...defaultExposurePolicy, shelter },
    })
    expect(Math.abs(got.zones[1]!.people.mean - perPerson)).toBeLessThan(4 * 0.00014)
  })
})

describe('lengths and outlines (reference rows)', () => {
  it('a tree 20 m high leaning 30° is 23.094 m long; a limb 6 m by 2 m covers 15.14 m² and not a disc', () => {
    const tree = {
      heightM: 20,
      stemDiameterCm: 50,
      crownBaseHeightM: 6,
      crownRadiiM: { n: 3, e: 3, s: 3, w: 3 },
      lean: { bearingDeg: 10, angleDeg: 30 },
      clearingBearingDeg: null,
    }
    expect(reachOf(tree)).toBeCloseTo(23.0940108, 6)
    expect(silhouetteAreaM2(capsule(6, 1))).toBeCloseTo(15.1416, 4)
  })
})

describe('closed forms, all directions alike', () => {
  it('thin capsule: an arc zone between two radii holds its share of the length at its share of the bearings', () => {
    // A full annulus of many corners: every fall lays 2 m of a 10 m capsule, 0.002 m wide, in it.
    const circle = (r: number) =>
      Array.from({ length: 360 }, (_, i) => [
        r * Math.cos((i * Math.PI) / 180),
        r * Math.sin((i * Math.PI) / 180),
      ])
    const annulus: ZoneAround = {
      ...box('z', [0, 1], [0, 1], 1),
      polygons: [[circle(6), circle(4)]],
      areaM2: 1,
    }
    const [got] = exposureOfSilhouette(capsule(10, 0.001), even, [annulus]).zones
    expect(got!.people.mean / (2 * 2 * 0.001)).toBeCloseTo(1, 3)
    expect(got!.pTouch.mean).toBeCloseTo(1, 9)
  })
  it('half plane beyond d: a thin stem of length L reaches it at acos(d / L) / π of all bearings', () => {
    const [got] = exposureOfSilhouette(strip(20, 1e-6), even, [box('z', [8, 200], [-500, 500], 1)]).zones
    expect(got!.pTouch.mean).toBeCloseTo(Math.acos(8 / 20) / Math.PI, 6)
  })
})
