/**
 * Every figure against slow truths that share nothing with the kernel: lanes laid by the definition of the outline at
 * thousands of bearings, and seeded falls and people (20 cases; EXPOSURE_CASES=200 for all) with |z| below 4.5 of their
 * standard error and no more spread among all of them than chance has.
 */

import {
  contributionsOf,
  densityAt,
  exposureOf,
  exposureOfSilhouette,
  exposureOverPlaces,
  type FallingTree,
  hourClasses,
  type Lobe,
  lobesOf,
  type Silhouette,
  silhouetteOf,
  silhouetteRing,
  type ZoneAround,
} from '@underbough/exposure'
import { seededNumbers } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { capsule, crowned, ringOf, strip } from './exposure-rows.ts'
import { crookedZone, howMany, inRing, placeIn, planarArea, type Ring, within } from './exposure-slow.ts'

const zoneOf = (rings: Ring[], people: readonly number[], id = 'z'): ZoneAround => ({
  id,
  polygons: [rings],
  areaM2: planarArea(rings),
  hours: hourClasses(Array.from({ length: 168 }, (_, hour) => people[hour % people.length]!)),
  staticTarget: false,
})

const treeOf = (random: () => number, seed: number): FallingTree => ({
  heightM: 12 + 10 * random(),
  stemDiameterCm: 30 + 60 * random(),
  crownBaseHeightM: 2 + 4 * random(),
  crownRadiiM: { n: 3 + 3 * random(), e: 2 + 3 * random(), s: 2 + 3 * random(), w: 1 + 3 * random() },
  lean: seed % 2 ? { bearingDeg: 360 * random(), angleDeg: 25 * random() } : null,
  clearingBearingDeg: seed % 3 ? 360 * random() : null,
  windRose: seed % 4 ? null : Array.from({ length: 16 }, () => random()),
  pole: seed % 5 === 0,
})

/** Length of a lane within the outline and the zone, by the definition of the outline. */
function laneM(s: Silhouette, v: number, crossings: number[]): number {
  const w = s.halfWidthM
  let parts: [number, number][] = []
  if (s.kind === 'strip') parts = Math.abs(v) < w ? [[0, s.lengthM]] : []
  else if (s.kind === 'capsule') {
    const round = Math.sqrt(Math.max(0, w * w - v * v))
    parts = Math.abs(v) < w ? [[-round, s.lengthM + round]] : []
  } else {
    const h = s.alongM * Math.sqrt(Math.max(0, 1 - (v / s.acrossM) ** 2))
    if (Math.abs(v) < w) parts = [[0, Math.max(s.centreM, s.centreM + h)]]
    else if (h > 0) parts = [[s.centreM - h, s.centreM + h]]
  }
  let sum = 0
  for (const [a, b] of parts)
    for (let i = 0; i + 1 < crossings.length; i += 2)
      sum += Math.max(0, Math.min(b, crossings[i + 1]!) - Math.max(a, crossings[i]!))
  return sum
}

const LANES = 1200

/** Shared area of outline and zone at an angle: lanes crowded towards the sides, where the round parts begin. */
function sharedM2(s: Silhouette, rings: Ring[], angle: number): number {
  const across = s.kind === 'crowned' ? Math.max(s.acrossM, s.halfWidthM) : s.halfWidthM
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
  const turned = rings.map((ring) => ring.map(([x, y]) => [x * cos + y * sin, y * cos - x * sin] as const))
  let sum = 0
  for (let i = 0; i < LANES; i++) {
    const t = ((i + 0.5) / LANES) * Math.PI
    const v = -across * Math.cos(t)
    const crossings: number[] = []
    for (const ring of turned)
      for (let k = 0; k < ring.length; k++) {
        const [ua, va] = ring[k]!
        const [ub, vb] = ring[(k + 1) % ring.length]!
        if (va > v !== vb > v) crossings.push(ua + ((v - va) / (vb - va)) * (ub - ua))
      }
    if (crossings.length === 0) continue
    crossings.sort((a, b) => a - b)
    sum += laneM(s, v, crossings) * across * Math.sin(t)
  }
  return (sum * Math.PI) / LANES
}

const BEARINGS = 3600

describe('people and P_any within 1e-6 of lanes and bearings laid densely', () => {
  const random = seededNumbers(31)
  const cases: [string, Silhouette][] = [
    ['pole', strip(17.3, 0.61)],
    ['limb', capsule(9.1, 0.43)],
    ['stem and crown', crowned(0.52, 11.2, 5.3, 3.9)],
    ['crown wider than long', crowned(0.47, 7.4, 2.6, 4.2)],
  ]
  it.each(cases)(
    '%s',
    (_, silhouette) => {
      const lobes = lobesOf({ ...treeOf(random, 7), pole: false })
      const rings = crookedZone(random, 7 + 3 * random(), 5, true)
      const people = [0.3, 5, 14]
      const zone = zoneOf(rings, people)
      const got = exposureOfSilhouette(silhouette, lobes, [zone]).zones[0]!
      const means = lobes.map(() => 0)
      const any = lobes.map(() => 0)
      for (let i = 0; i < BEARINGS; i++) {
        const angle = ((i + 0.5) * 2 * Math.PI) / BEARINGS
        const share = sharedM2(silhouette, rings, angle) / zone.areaM2
        if (share === 0) continue
        const nobody = people.reduce((sum, n) => sum + Math.exp(-n * share) / 3, 0)
        lobes.forEach((lobe, l) => {
          const chance = (densityAt([{ ...lobe, weight: 1 }], angle) * 2 * Math.PI) / BEARINGS
          means[l]! += chance * share * ((0.3 + 5 + 14) / 3)
          any[l]! += chance * (1 - nobody)
        })
      }
      const mix = (values: number[]) => values.reduce((sum, value, l) => sum + lobes[l]!.weight * value, 0)
      const near = (a: number, b: number, by: number) => expect(Math.abs(a - b)).toBeLessThan(by)
      near(got.people.mean, mix(means), 1e-6 * (1 + got.people.mean))
      near(got.people.most, Math.max(...means), 2e-6 * (1 + got.people.most))
      near(got.people.least, Math.min(...means), 1e-6 * (1 + got.people.least))
      near(got.pAny, mix(any), 1e-6)
      near(got.pAnyRange.most, Math.max(...any), 2e-6)
      expect(got.people.mean).toBeGreaterThan(0.01)
    },
    120_000,
  )
})

const CASES = Number(process.env.EXPOSURE_CASES ?? 20)
const FALLS = 8000
const OUTLINES = 400

describe(`falls and people thrown at random, ${CASES} cases`, () => {
  it('come out as the figures say', () => {
    const scores: number[] = []
    for (let seed = 1; seed <= CASES; seed++) {
      const random = seededNumbers(seed * 15485863)
      const tree = treeOf(random, seed)
      const rings = crookedZone(random, 4 + 9 * random(), 4 + 5 * random(), seed % 2 === 0)
      const people = [0.4, 6]
      const got = exposureOf(tree, [zoneOf(rings, people)]).zones[0]!
      const { silhouette } = silhouetteOf(tree)
      const fallAt = falls(lobesOf(tree), random)
      let [count, squares, any] = [0, 0, 0]
      for (let fall = 0; fall < FALLS; fall++) {
        const angle = fallAt()
        const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
        let here = 0
        for (let k = howMany(random, people[fall % 2]!); k > 0; k--) {
          const [x, y] = placeIn(random, rings)
          if (within(silhouette, x * cos + y * sin, y * cos - x * sin)) here++
        }
        count += here
        squares += here * here
        if (here > 0) any++
      }
      let touched = 0
      for (let fall = 0; fall < OUTLINES; fall++) {
        if (meets(silhouetteRing(silhouette, fallAt()).slice(1), rings)) touched++
      }
      const mean = count / FALLS
      scores.push((mean - got.people.mean) / Math.sqrt((squares / FALLS - mean * mean) / FALLS))
      const share = (n: number, of: number, p: number) => (n / of - p) / Math.sqrt((p * (1 - p)) / of)
      scores.push(share(any, FALLS, got.pAny))
      if (got.pTouch.mean < 1 - 1e-9) scores.push(share(touched, OUTLINES, got.pTouch.mean))
      expect(count).toBeGreaterThan(5)
    }
    const worst = Math.max(...scores.map(Math.abs))
    const spread = Math.sqrt(scores.reduce((sum, z) => sum + z * z, 0) / scores.length)
    expect(worst).toBeLessThan(4.5)
    // The root mean square of n standard normal numbers lies within 1 ± 4 / √(2 n) but for 1 in 16,000.
    expect(Math.abs(spread - 1)).toBeLessThan(4 / Math.sqrt(2 * scores.length))
  }, 600_000)
})

/** Whether an outline and a zone share ground: an edge of one crosses an edge of the other, or a corner lies inside. */
function meets(outline: Ring, zone: Ring[]): boolean {
  const inZone = ([x, y]: [number, number]) => zone.every((ring, i) => inRing(ring, x, y) === (i === 0))
  if (outline.some(inZone) || zone[0]!.some(([x, y]) => inRing(outline, x, y))) return true
  const side = (a: number[], b: number[], c: number[]) =>
    (b[0]! - a[0]!) * (c[1]! - a[1]!) - (b[1]! - a[1]!) * (c[0]! - a[0]!) > 0
  return zone.some((ring) =>
    ring.some((a, i) => {
      const b = ring[(i + 1) % ring.length]!
      return outline.some((c, k) => {
        const d = outline[(k + 1) % outline.length]!
        return side(a, b, c) !== side(a, b, d) && side(c, d, a) !== side(c, d, b)
      })
    }),
  )
}

/** Angles of fall by the density, by throwing away. */
function falls(lobes: Lobe[], random: () => number): () => number {
  const highest =
    1.01 * Math.max(...Array.from({ length: 720 }, (_, i) => densityAt(lobes, (i * Math.PI) / 360)))
  return () => {
    for (;;) {
      const angle = 2 * Math.PI * random()
      if (random() * highest <= densityAt(lobes, angle)) return angle
    }
  }
}

describe('a shelter that alters nothing of a contact', () => {
  it('leaves P_touch as it is, to rounding', () => {
    // The wall stands before a third of the zone: every outline that meets the zone meets it beside the shadow, too, or the
    // wall is passed over. Expected: the figure without it.
    const zone = zoneOf([ringOf('-9 10, 9 10, 9 13, -9 13')], [3])
    const tree = treeOf(seededNumbers(5), 1)
    const wall = (heightM: number | null): ZoneAround => ({
      ...zoneOf([ringOf('-0.2 6, 0.2 6, 0.2 6.4, -0.2 6.4')], [0], 'w'),
      shelter: heightM === null ? null : { heightM, class: 'masonry' },
    })
    const bare = exposureOf(tree, [zone, wall(null)]).zones[0]!
    const sheltered = exposureOf(tree, [zone, wall(4)]).zones[0]!
    expect(sheltered.people.mean).toBeLessThan(bare.people.mean - 1e-4)
    expect(Math.abs(sheltered.pTouch.mean - bare.pTouch.mean)).toBeLessThan(1e-9)
  })
})

describe('where the tree may stand elsewhere', () => {
  const zone = zoneOf([ringOf('8 -4, 14 -4, 14 4, 8 4')], [2])
  const tree = { ...treeOf(seededNumbers(8), 2), windRose: null, clearingBearingDeg: null }
  it('means over the circle agree with places thrown at random, and ranges hold the recorded place', () => {
    const got = exposureOverPlaces(tree, [zone], 3).zones[0]!
    const random = seededNumbers(12)
    const thrown = Array.from({ length: 400 }, () => {
      const [r, a] = [3 * Math.sqrt(random()), 2 * Math.PI * random()]
      const rings = zone.polygons[0]!.map((ring) =>
        ring.map(([x, y]) => [x! - r * Math.cos(a), y! - r * Math.sin(a)]),
      )
      return exposureOf(tree, [{ ...zone, polygons: [rings] }]).zones[0]!
    })
    const check = (figure: typeof got.pTouch, values: number[]) => {
      const mean = values.reduce((a, b) => a + b, 0) / values.length
      const error = Math.sqrt(
        values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length / values.length,
      )
      expect(Math.abs(figure.mean - mean)).toBeLessThan(4 * error + 0.002)
      expect(figure.least).toBeLessThanOrEqual(figure.here)
      expect(figure.most).toBeGreaterThanOrEqual(figure.here)
    }
    check(
      got.pTouch,
      thrown.map((e) => e.pTouch.mean),
    )
    check(
      got.people,
      thrown.map((e) => e.people.mean),
    )
    const exact = exposureOverPlaces(tree, [zone], 0).zones[0]!
    expect(exact.pTouch.most - exact.pTouch.least).toBeLessThan(1e-9)
  })
  it('every input is varied alone, the widest first; a range holds the figure as it is', () => {
    const as = exposureOf(tree, [zone]).joint
    const got = contributionsOf(tree, [zone], { accuracyM: 3, by: 'people' })
    expect(got.map((c) => c.input).sort()).toEqual([
      'body-half-width',
      'crown-base',
      'crown-radii',
      'directions',
      'group-size',
      'height',
      'people',
      'position',
      'stem-diameter',
    ])
    for (const { people } of got) {
      expect(people.least).toBeLessThanOrEqual(as.people.mean)
      expect(people.most).toBeGreaterThanOrEqual(as.people.mean)
    }
    const spread = got.map(({ people }) => people.most - people.least)
    expect(spread).toEqual([...spread].sort((a, b) => b - a))
    // Twice as many people are twice the mean, exactly: it is linear in them.
    const people = got.find((c) => c.input === 'people')!.people
    expect(people.most).toBeCloseTo(2 * as.people.mean, 6)
    expect(people.least).toBeCloseTo(0.5 * as.people.mean, 6)
  })
})
