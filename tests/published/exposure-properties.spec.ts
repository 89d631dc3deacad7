/** What must hold for every tree and zone, whatever the numbers (common geometry and probability, no source). */
import {
  exposureOf,
  exposureOfSilhouette,
  type FallingTree,
  hourClasses,
  lobesOf,
  type Silhouette,
  silhouetteAreaM2,
  type ZoneAround,
} from '@underbough/exposure'
import { seededNumbers } from '@underbough/model'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { even } from './exposure-directions.ts'
import { capsule, crowned, strip } from './exposure-rows.ts'
import { closed, crookedZone, planarArea, type Ring } from './exposure-slow.ts'

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const silhouettes: fc.Arbitrary<Silhouette> = fc.oneof(
  fc.tuple(between(3, 30), between(0.2, 3)).map(([l, w]) => strip(l, w)),
  fc.tuple(between(3, 30), between(0.2, 3)).map(([l, w]) => capsule(l, w)),
  fc
    .tuple(between(0.2, 1), between(3, 20), between(0.1, 1), between(0.1, 8))
    .map(([w, c, share, q]) => crowned(w, c, share * c, q)),
)
const zones = fc
  .tuple(fc.integer(), between(0, 20), between(1, 12), fc.boolean())
  .map(([seed, away, size, holed]) => crookedZone(seededNumbers(seed), away, size, holed))
const bearing = between(0, 359.9)
const trees: fc.Arbitrary<FallingTree> = fc.record({
  heightM: between(3, 35),
  stemDiameterCm: fc.option(between(5, 150)),
  crownBaseHeightM: fc.option(between(0, 30)),
  crownRadiiM: fc.option(
    fc.record({ n: between(0, 8), e: between(0, 8), s: between(0, 8), w: between(0, 8) }),
  ),
  lean: fc.option(fc.record({ bearingDeg: bearing, angleDeg: between(0, 60) })),
  clearingBearingDeg: fc.option(bearing),
  knownBearingDeg: fc.option(bearing, { freq: 5 }),
  windRose: fc.option(fc.array(between(0, 1), { minLength: 16, maxLength: 16 })),
})
const zoneOf = (polygons: Ring[][], people: number, id = 'zone', areaM2?: number): ZoneAround => ({
  id,
  polygons,
  areaM2: areaM2 ?? polygons.reduce((sum, rings) => sum + planarArea(rings), 0),
  hours: hourClasses(Array.from({ length: 168 }, (_, hour) => (hour % 3 === 0 ? 3 * people : 0))),
  staticTarget: false,
})
const first = (s: Silhouette, polygons: Ring[][], people = 2) =>
  exposureOfSilhouette(s, even, [zoneOf(polygons, people)]).zones[0]!
const near = (got: number, wanted: number, by: number) =>
  expect(Math.abs(got - wanted), `${got} against ${wanted}`).toBeLessThanOrEqual(by)
const turn = (rings: Ring[], angle: number): Ring[] =>
  rings.map((ring) =>
    ring.map(([x, y]) => [
      x * Math.cos(angle) - y * Math.sin(angle),
      x * Math.sin(angle) + y * Math.cos(angle),
    ]),
  )
/** Bound of the rule for mean people and P_any, as `exposureOfSilhouette` states it: two drawings of one ground have other nodes. */
const RULE = 1e-6
const runs = { numRuns: 100, seed: 20261125 }

describe('every tree and zone', () => {
  it('0 ≤ P_any ≤ min(P_touch, 1 − e^−people), least ≤ mean ≤ most, stem + crown = people', () => {
    let met = 0
    fc.assert(
      fc.property(trees, zones, zones, between(0, 60), (tree, one, two, people) => {
        const got = exposureOf(tree, [zoneOf([one], people, 'a'), zoneOf([two], people / 2, 'b')])
        for (const figure of [...got.zones, got.joint]) {
          expect(figure.pAny).toBeGreaterThanOrEqual(0)
          expect(figure.pAny).toBeLessThanOrEqual(figure.pTouch.mean)
          expect(figure.pAny).toBeLessThanOrEqual(-Math.expm1(-figure.people.mean))
          for (const ring of [figure.pTouch, figure.people]) {
            expect(ring.least).toBeLessThanOrEqual(ring.mean)
            expect(ring.mean).toBeLessThanOrEqual(ring.most)
          }
          near(figure.people.stem + figure.people.crown + figure.people.scatter, figure.people.mean, 1e-9)
          expect(figure.pAnyRange.least).toBeLessThanOrEqual(figure.pAny)
          expect(figure.pAnyRange.most).toBeGreaterThanOrEqual(figure.pAny)
          expect(figure.pAnyRange.most).toBeLessThanOrEqual(figure.pTouch.most)
          expect(figure.pTouch.most).toBeLessThanOrEqual(1)
          if (figure.pAny > 0) met++
        }
        const [a, b] = got.zones
        near(got.joint.people.mean, a!.people.mean + b!.people.mean, 1e-9)
        for (const of of [(z: typeof a) => z!.pTouch.mean, (z: typeof a) => z!.pAny]) {
          const joint = of(got.joint as typeof a)
          expect(joint).toBeGreaterThanOrEqual(Math.max(of(a), of(b)) - 1e-9)
          expect(joint).toBeLessThanOrEqual(of(a) + of(b) + 1e-9)
        }
        near(
          got.densityPerDeg.reduce((sum, d) => sum + d * 5, 0),
          1,
          1e-3,
        )
      }),
      runs,
    )
    expect(met).toBeGreaterThan(100)
  })

  it('turning everything about the tree changes nothing', () => {
    fc.assert(
      fc.property(trees, zones, between(0, 360), (tree, zone, by) => {
        const turned: FallingTree = {
          ...tree,
          // Four radii and sixteen winds cannot be turned by any angle: they are left out here.
          crownRadiiM: { n: 3, e: 3, s: 3, w: 3 },
          windRose: null,
        }
        const move = (b: number) => (b + 360 - by) % 360
        const other: FallingTree = {
          ...turned,
          lean: tree.lean && { ...tree.lean, bearingDeg: move(tree.lean.bearingDeg) },
          clearingBearingDeg: tree.clearingBearingDeg === null ? null : move(tree.clearingBearingDeg),
          knownBearingDeg: tree.knownBearingDeg == null ? null : move(tree.knownBearingDeg),
        }
        const [a] = exposureOf(turned, [zoneOf([zone], 4)]).zones
        const [b] = exposureOf(other, [zoneOf([turn(zone, (by * Math.PI) / 180)], 4)]).zones
        near(b!.pTouch.mean, a!.pTouch.mean, 1e-7)
        near(b!.people.mean, a!.people.mean, RULE * (1 + a!.people.mean))
        near(b!.pAny, a!.pAny, RULE)
      }),
      runs,
    )
  })

  it('neither the turn of a ring, nor where it begins, nor its closing point matters', () => {
    fc.assert(
      fc.property(silhouettes, zones, fc.nat(20), (s, zone, shift) => {
        const a = first(s, [zone])
        const moved = zone.map((ring) => ring.map((_, i) => ring[(i + shift) % ring.length]!))
        for (const other of [moved, zone.map((ring) => [...ring].reverse()), zone.map(closed)]) {
          const b = first(s, [other])
          near(b.people.mean, a.people.mean, 1e-10)
          near(b.pTouch.mean, a.pTouch.mean, 1e-9)
        }
      }),
      runs,
    )
  })

  it('a zone cut in two by any line holds the same people', () => {
    fc.assert(
      fc.property(silhouettes, zones, between(0, 6.28), between(-0.4, 0.4), (s, zone, angle, shift) => {
        const outer = hull(zone[0]!)
        const middle = outer.reduce(([x, y], p) => [x + p[0] / outer.length, y + p[1] / outer.length], [0, 0])
        const side = ([x, y]: [number, number]) =>
          (x - middle[0]!) * Math.cos(angle) + (y - middle[1]!) * Math.sin(angle) - shift
        const halves = [cut(outer, side), cut(outer, (p) => -side(p))].filter((ring) => ring.length > 2)
        const whole = planarArea([outer])
        const parts = halves.map((ring, i) =>
          zoneOf([[ring]], (10 * planarArea([ring])) / whole, `part ${i}`),
        )
        const split = exposureOfSilhouette(s, even, parts)
        const one = first(s, [[outer]], 10)
        near(split.joint.people.mean, one.people.mean, RULE * (1 + one.people.mean))
        near(split.joint.pTouch.mean, one.pTouch.mean, 1e-7)
        near(split.joint.pAny, one.pAny, RULE)
        expect(split.flags).toEqual([])
      }),
      runs,
    )
  })

  it('a hole takes away just what it covers', () => {
    fc.assert(
      fc.property(silhouettes, zones, (s, zone) => {
        const hole: Ring = zone[0]!.map(([x, y]) => [x, y])
        const centre = zone[0]!.reduce(
          ([x, y], p) => [x + p[0] / hole.length, y + p[1] / hole.length],
          [0, 0],
        )
        const frame: Ring = [
          [-1, -1],
          [1, -1],
          [1, 1],
          [-1, 1],
        ].map(([x, y]) => [centre[0]! + 30 * x!, centre[1]! + 30 * y!])
        const areaM2 = (polygons: Ring[][]) =>
          exposureOfSilhouette(s, even, [zoneOf(polygons, 100, 'z', 100)]).zones[0]!.people.mean
        const all = areaM2([[frame]])
        near(areaM2([[frame, hole]]) + areaM2([[hole]]), all, RULE * (1 + all))
      }),
      runs,
    )
  })

  it('a zone that swallows every fall shares the whole silhouette, whatever the directions', () => {
    fc.assert(
      fc.property(silhouettes, trees, (s, tree) => {
        const square: Ring = [
          [-60, -60],
          [60, -60],
          [60, 60],
          [-60, 60],
        ]
        const got = exposureOfSilhouette(s, lobesOf(tree), [zoneOf([[square]], 14400, 'z')]).zones[0]!
        near(got.people.mean / silhouetteAreaM2(s), 1, 1e-9)
        near(got.pTouch.mean, 1, 1e-9)
        expect(got.touchingBearings).toEqual([{ fromDeg: 0, toDeg: 360 }])
      }),
      runs,
    )
  })

  it('two zones are touched together just as one zone of both outlines is', () => {
    fc.assert(
      fc.property(trees, zones, zones, (tree, one, two) => {
        const apart = exposureOf(tree, [zoneOf([one], 1, 'a'), zoneOf([two], 1, 'b')]).joint
        const both = exposureOf(tree, [zoneOf([one, two], 1)]).zones[0]!
        near(apart.pTouch.mean, both.pTouch.mean, 1e-7)
        near(apart.pTouch.most, both.pTouch.most, 1e-7)
        const width = (list: typeof both.touchingBearings) =>
          list.reduce((sum, b) => sum + b.toDeg - b.fromDeg, 0)
        near(width(apart.touchingBearings), width(both.touchingBearings), 1e-4)
      }),
      runs,
    )
  })

  it('a zone inside another: nobody is counted twice, whether or not it is part of it', () => {
    fc.assert(
      fc.property(silhouettes, between(0, 15), between(0, 6.28), (s, away, angle) => {
        const at = (size: number): Ring =>
          [
            [-1, -1],
            [1, -1],
            [1, 1],
            [-1, 1],
          ].map(([x, y]) => [away * Math.cos(angle) + size * x!, away * Math.sin(angle) + size * y!])
        const park = zoneOf([[at(8)]], 100, 'park')
        const bench = zoneOf([[at(1)]], 4, 'bench')
        const ring = zoneOf([[at(8), at(1)]], 100, 'park')
        const inside = exposureOfSilhouette(s, even, [park, bench])
        const apart = exposureOfSilhouette(s, even, [ring, bench])
        near(inside.joint.people.mean, apart.joint.people.mean, RULE * (1 + inside.joint.people.mean))
        near(inside.joint.pAny, apart.joint.pAny, RULE * (1 + inside.joint.people.mean))
        const declared = exposureOfSilhouette(s, even, [park, { ...bench, partOf: 'park' }])
        const fewer = exposureOfSilhouette(s, even, [zoneOf([[at(8), at(1)]], 96, 'park'), bench])
        near(declared.joint.people.mean, fewer.joint.people.mean, RULE * (1 + inside.joint.people.mean))
        near(declared.joint.pAny, fewer.joint.pAny, RULE * (1 + inside.joint.people.mean))
        // Touching is a matter of ground, not of people.
        near(declared.zones[0]!.pTouch.mean, first(s, [[at(8)]]).pTouch.mean, 1e-12)
      }),
      runs,
    )
  })
})

/** The convex hull (Andrew's monotone chain). */
function hull(points: Ring): Ring {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1])
  const chain = (list: Ring) => {
    const out: Ring = []
    for (const p of list) {
      while (out.length > 1 && turnOf(out[out.length - 2]!, out[out.length - 1]!, p) <= 0) out.pop()
      out.push(p)
    }
    return out.slice(0, -1)
  }
  return [...chain(sorted), ...chain(sorted.reverse())]
}

const turnOf = (a: number[], b: number[], c: number[]) =>
  (b[0]! - a[0]!) * (c[1]! - a[1]!) - (b[1]! - a[1]!) * (c[0]! - a[0]!)

/** The part of a convex ring on the side where `side` is not negative. */
function cut(ring: Ring, side: (p: [number, number]) => number): Ring {
  return ring.flatMap((a, i): Ring => {
    const b = ring[(i + 1) % ring.length]!
    const [fa, fb] = [side(a), side(b)]
    const t = fa / (fa - fb)
    const crossing: Ring = fa >= 0 !== fb >= 0 ? [[a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]] : []
    return fa >= 0 ? [a, ...crossing] : crossing
  })
}
