import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { exposureOf, exposureOfScenario, type FallingTree, hourClasses, type ZoneAround } from './index.ts'
import { defaultExposurePolicy } from './policy.ts'

const tree: FallingTree = {
  heightM: 18,
  stemDiameterCm: 50,
  crownBaseHeightM: 5,
  crownRadiiM: { n: 4, e: 4, s: 4, w: 4 },
  lean: { bearingDeg: 90, angleDeg: 4 },
  clearingBearingDeg: null,
}
const box = (id: string, x0: number, x1: number, y0: number, y1: number, people = 4): ZoneAround => ({
  id,
  polygons: [
    [
      [
        [x0, y0],
        [x1, y0],
        [x1, y1],
        [x0, y1],
      ],
    ],
  ],
  areaM2: (x1 - x0) * (y1 - y0),
  hours: hourClasses(new Array(168).fill(people)),
  staticTarget: false,
})
const figures = (z: ReturnType<typeof exposureOf>['joint']) => [z.pTouch.mean, z.people.mean, z.pAny]
const place = fc.tuple(
  fc.double({ min: -22, max: 22, noNaN: true }),
  fc.double({ min: -22, max: 22, noNaN: true }),
  fc.double({ min: 1, max: 8, noNaN: true }),
)
const runs = { numRuns: 12, seed: 20261125 }

describe('dead or brittle wood', () => {
  it('scatters beyond the reach and never lowers a figure, near or far', () => {
    fc.assert(
      fc.property(place, ([x, y, size]) => {
        const zone = box('z', x, x + size, y, y + size)
        const sound = exposureOf(tree, [zone]).zones[0]!
        const brittle = exposureOf({ ...tree, brittle: true }, [zone]).zones[0]!
        figures(brittle).forEach((figure, i) => {
          expect(figure).toBeGreaterThanOrEqual(figures(sound)[i]! - 1e-6)
        })
        expect(brittle.pAny).toBeLessThanOrEqual(
          Math.min(brittle.pTouch.mean, -Math.expm1(-brittle.people.mean)),
        )
      }),
      runs,
    )
    const beyond = box('z', 22, 25, -2, 2)
    expect(exposureOf(tree, [beyond]).zones[0]!.pTouch.mean).toBe(0)
    expect(exposureOf({ ...tree, brittle: true }, [beyond]).zones[0]!.people.scatter).toBeGreaterThan(0)
  })
  it('over ground that holds every fall is the share of the annulus its sector covers', () => {
    // Closed form: a sector of 40° between r and 1.5 r, times coverage.
    const pole = { ...tree, pole: true, brittle: true, lean: null }
    const got = exposureOf(pole, [box('all', -60, 60, -60, 60, 14400)]).zones[0]!
    const { reachM } = exposureOf(pole, [])
    const sector = (40 / 360) * Math.PI * ((1.5 * reachM) ** 2 - reachM ** 2) * 0.3
    expect(got.people.scatter / sector).toBeCloseTo(1, 9)
  })
})

describe('shelter', () => {
  const wall = box('wall', 6, 8, -3, 3, 0)
  const behind = box('z', 10, 14, -3, 3)
  const of = (shelter: ZoneAround['shelter'], policy = defaultExposurePolicy) =>
    exposureOf(tree, [{ ...wall, shelter }, behind], policy).zones[1]!
  it('lowers every figure, to more than zero, and needs a height and a class that can carry the stem', () => {
    const open = of(null)
    const stopped = of({ heightM: 6, class: 'masonry' })
    figures(stopped).forEach((figure, i) => {
      expect(figure).toBeLessThan(figures(open)[i]!)
      expect(figure).toBeGreaterThan(0)
    })
    expect(of({ heightM: 0, class: 'masonry' }).people).toEqual(open.people)
    expect(of({ heightM: 6, class: 'light' }).people).toEqual(open.people)
  })
  it('that leaves everything is none', () => {
    const shelter = { ...defaultExposurePolicy.shelter, residual: 1, least: 1 }
    const got = of({ heightM: 6, class: 'masonry' }, { ...defaultExposurePolicy, shelter })
    expect(got.people.mean).toBeCloseTo(of(null).people.mean, 6)
    expect(got.pTouch.mean).toBeCloseTo(of(null).pTouch.mean, 9)
  })
  it('added to others never raises a figure', () => {
    // Both are drawn on the ground either way; only the height of the second differs.
    const both = (heightM: number) =>
      exposureOf(tree, [
        { ...wall, shelter: { heightM: 2, class: 'masonry' } },
        { ...box('second', 4, 5, -1, 1, 0), shelter: { heightM, class: 'masonry' } },
        behind,
      ]).zones[2]!
    const one = both(0)
    const with_ = both(1)
    expect(with_.people.mean).toBeLessThan(one.people.mean)
    figures(with_).forEach((figure, i) => {
      expect(figure).toBeLessThanOrEqual(figures(one)[i]! + 1e-6)
    })
  })
})

describe('slope', () => {
  const slope = { downhillBearingDeg: 90, angleDeg: 35 }
  it('reaches less far up and down, as far across, and says where it slides on', () => {
    const touch = (on: boolean, zone: ZoneAround) =>
      exposureOf({ ...tree, lean: null, slope: on ? slope : null }, [zone]).zones[0]!.pTouch.mean
    const down = box('down', 16.5, 18, -1, 1)
    const across = box('across', -1, 1, 16.5, 18)
    expect(touch(true, down)).toBe(0)
    expect(touch(false, down)).toBeGreaterThan(0.02)
    expect(touch(true, across)).toBeGreaterThan(0.02)
    expect(exposureOf({ ...tree, slope }, []).flags.map((f) => f.code)).toEqual(['run-out-unbounded'])
    expect(exposureOf({ ...tree, slope: { ...slope, angleDeg: 20 } }, []).flags).toEqual([])
  })
})

describe('a scenario', () => {
  const zone = box('z', 15, 18, -2, 2)
  it('of a broken stem keeps the full reach, and goes further only where the inspector says', () => {
    const reach = (reachM: number | null) => {
      const { silhouette } = exposureOfScenario(tree, { part: 'stem', knownBearingDeg: null, reachM }, [zone])
      return silhouette.kind === 'crowned' ? silhouette.centreM + silhouette.alongM : 0
    }
    expect(reach(null)).toBeCloseTo(18 / Math.cos((4 * Math.PI) / 180), 9)
    expect(reach(9)).toBe(reach(null))
    expect(reach(25)).toBeCloseTo(25, 9)
  })
  it('of a limb lies about its union, on its own side where that is known', () => {
    const limb = { part: 'limb', lengthM: 5, diameterCm: 20 } as const
    const any = exposureOfScenario(tree, { ...limb, knownBearingDeg: null }, [box('near', 3, 5, -2, 2), zone])
    expect(any.silhouette).toEqual({ kind: 'capsule', lengthM: 5, halfWidthM: 0.35 })
    expect(any.zones[1]!.pTouch.mean).toBe(0)
    const east = exposureOfScenario(tree, { ...limb, knownBearingDeg: 90 }, [box('near', 3, 5, -2, 2)])
    expect(east.zones[0]!.pTouch.mean).toBeGreaterThan(any.zones[0]!.pTouch.mean)
    expect(east.pivotM[0]).toBeCloseTo(0.25, 9)
  })
})
