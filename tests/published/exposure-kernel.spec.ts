/**
 * The kernel against its reference rows, against general-purpose polygon clipping (Turf) at sampled bearings, and against
 * seeded simulation, |z| < 4 of its standard error.
 */
import {
  densityAt,
  exposureOf,
  exposureOfSilhouette,
  type FallingTree,
  hourClasses,
  lobesOf,
  type Silhouette,
  silhouetteAreaM2,
  silhouetteOf,
} from '@underbough/exposure'
import { seededNumbers } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { overlapAt } from '../../packages/exposure/src/kernel/area.ts'
import { touchingArcs } from '../../packages/exposure/src/kernel/contact.ts'
import { evenMeanAreaM2, withinRadius } from '../../packages/exposure/src/kernel/radial.ts'
import { shapeOf } from '../../packages/exposure/src/kernel/shape.ts'
import { zoneRings } from '../../packages/exposure/src/zone.ts'
import {
  capsule,
  crowned,
  ellipseRows,
  polygonRows,
  radialRows,
  ringOf,
  strip,
  swallowingRows,
} from './exposure-rows.ts'
import { crookedZone, howMany, placeIn, planarArea, sharedAreaByTurf, within } from './exposure-slow.ts'

describe('area of the silhouette within a distance of the pivot (reference rows)', () => {
  it.each(radialRows)('%o within %d m', (silhouette, withinM, areaM2, countedM2) => {
    const got = withinRadius(silhouette)(withinM)
    expect(Math.abs(got - areaM2)).toBeLessThan(1e-6)
    expect(Math.abs(got - countedM2)).toBeLessThan(0.006)
  })
})

describe('the polar form, all directions alike (reference rows)', () => {
  it.each([...polygonRows, ...ellipseRows])('$silhouette on $ring', (row) => {
    const rings = [row.ring, ...(row.hole ? [row.hole] : [])].map(ringOf)
    expect(Math.abs(evenMeanAreaM2(row.silhouette, zoneRings([rings])) - row.areaM2)).toBeLessThan(2e-8)
  })
  it.each(swallowingRows)('%o swallowed', (silhouette, areaM2) => {
    const square = ringOf('-40 -40, 40 -40, 40 40, -40 40')
    expect(evenMeanAreaM2(silhouette, zoneRings([[square]]))).toBeCloseTo(areaM2, 7)
    expect(silhouetteAreaM2(silhouette)).toBeCloseTo(areaM2, 7)
  })
  it('gives what a body half width adds to a thin stem, to 1e-6 m² (reference row)', () => {
    const path = zoneRings([[ringOf('5 -10, 7 -10, 7 10, 5 10')]])
    expect(Math.abs(evenMeanAreaM2(strip(18, 0.2), path) - 0.32824626)).toBeLessThan(1e-6)
    expect(Math.abs(evenMeanAreaM2(strip(18, 0.45), path) - 0.73893697)).toBeLessThan(1e-6)
  })
})

// Reference rows: trialKernelDefects. Per person in the zone; strip exact, capsule exact.
describe('shapes and rings that a rough kernel gets wrong (reference rows)', () => {
  it.each([
    ['path beside the stem', '1 -10, 3 -10, 3 10, 1 10', 18, 3, 0.25019, 0.35332],
    ['square on the stem', '-1 -1, 1 -1, 1 1, -1 1', 18, 3, 0.5, 1],
    ['near the tip', '17 -3, 20 -3, 20 3, 17 3', 18, 3, 0.0182, 0.04952],
    ['zone all round', '-40 -40, 40 -40, 40 40, -40 40', 12, 2, 0.0075, 0.00946],
  ] as const)('%s', (_, ring, length, w, asStrip, asCapsule) => {
    const zone = zoneRings([[ringOf(ring)]])
    expect(Math.abs(evenMeanAreaM2(strip(length, w), zone) / zone.areaM2 - asStrip)).toBeLessThan(6e-6)
    expect(Math.abs(evenMeanAreaM2(capsule(length, w), zone) / zone.areaM2 - asCapsule)).toBeLessThan(6e-6)
  })
})

const shapes: [string, (random: () => number) => Silhouette][] = [
  ['strip', (r) => strip(8 + 14 * r(), 0.3 + 2 * r())],
  ['capsule', (r) => capsule(5 + 10 * r(), 0.3 + 2 * r())],
  ['stem and crown', (r) => crowned(0.3 + 0.6 * r(), 8 + 6 * r(), 2 + 6 * r(), 1.5 + 4 * r())],
  ['crown wider than long', (r) => crowned(0.3 + 0.6 * r(), 5 + 3 * r(), 2 + r(), 4 + 3 * r())],
  ['crown narrower than its stem', (r) => crowned(1 + r(), 5 + 3 * r(), 2 + r(), 0.2 + 0.7 * r())],
]

describe('shared area against polygon clipping (Turf)', () => {
  it.each(shapes)('%s over 8 crooked zones and 12 bearings', (_, shape) => {
    const random = seededNumbers(4)
    let met = 0
    for (let i = 0; i < 8; i++) {
      const silhouette = shape(random)
      const zone = crookedZone(random, 12 * random(), 3 + 8 * random(), i % 3 === 0)
      const rings = zoneRings([zone])
      for (let k = 0; k < 12; k++) {
        const angle = (k + random()) * (Math.PI / 6)
        const got = overlapAt(shapeOf(silhouette), rings, Math.cos(angle), Math.sin(angle), {
          stemM2: 0,
          crownM2: 0,
        })
        const truth = sharedAreaByTurf(silhouette, angle, zone)
        expect(Math.abs(got.stemM2 + got.crownM2 - truth)).toBeLessThan(3e-3)
        if (silhouette.kind !== 'capsule') {
          const stem = strip(
            silhouette.kind === 'strip' ? silhouette.lengthM : silhouette.centreM,
            silhouette.halfWidthM,
          )
          expect(Math.abs(got.stemM2 - sharedAreaByTurf(stem, angle, zone))).toBeLessThan(1e-8)
        }
        if (truth > 0.01) met++
      }
    }
    expect(met).toBeGreaterThan(15)
  })

  it.each(shapes)('%s: touches just where clipping finds an area, to a tenth of a degree', (_, shape) => {
    const random = seededNumbers(9)
    for (let i = 0; i < 6; i++) {
      const silhouette = shape(random)
      const zone = crookedZone(random, 4 + 12 * random(), 2 + 3 * random(), false)
      const arcs = touchingArcs(shapeOf(silhouette), zoneRings([zone]))
      const inside = (angle: number) =>
        arcs.some(([from, to]) => [0, 2 * Math.PI].some((turn) => angle + turn > from && angle + turn < to))
      for (const [from, to] of arcs) {
        if (to - from > 2 * Math.PI - 1e-9) continue
        // Just outside an end clipping finds nothing; half a degree inside it finds something.
        for (const angle of [from - 0.0017, to + 0.0017].filter(
          (a) => !inside(((a % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)),
        ))
          expect(sharedAreaByTurf(silhouette, angle, zone, 720)).toBeLessThan(1e-3)
      }
      for (let k = 0; k < 16; k++) {
        const angle = (k * Math.PI) / 8 + 0.01
        if (sharedAreaByTurf(silhouette, angle, zone) > 3e-3) expect(inside(angle)).toBe(true)
      }
    }
  })
})

describe('falls and people thrown at random', () => {
  const FALLS = 40_000
  it.each([1, 2, 3, 4, 5, 6, 7, 8])('tree and zone %d', (seed) => {
    const random = seededNumbers(seed * 7919)
    const tree: FallingTree = {
      heightM: 12 + 10 * random(),
      stemDiameterCm: 30 + 60 * random(),
      crownBaseHeightM: 2 + 4 * random(),
      crownRadiiM: { n: 3 + 3 * random(), e: 2 + 3 * random(), s: 2 + 3 * random(), w: 1 + 3 * random() },
      lean: seed % 2 ? { bearingDeg: 360 * random(), angleDeg: 25 * random() } : null,
      clearingBearingDeg: seed % 3 ? 360 * random() : null,
      windRose: seed % 4 ? null : Array.from({ length: 16 }, () => random()),
    }
    const zone = crookedZone(random, 4 + 8 * random(), 4 + 5 * random(), seed % 2 === 0)
    const people = [0.4, 6]
    const got = exposureOf(tree, [
      {
        id: 'zone',
        polygons: [zone],
        areaM2: planarArea(zone),
        hours: hourClasses(Array.from({ length: 168 }, (_, hour) => people[hour % 2]!)),
        staticTarget: false,
      },
    ]).zones[0]!
    const { silhouette } = silhouetteOf(tree)
    const lobes = lobesOf(tree)
    const highest =
      Math.max(...Array.from({ length: 720 }, (_, i) => densityAt(lobes, (i * Math.PI) / 360))) * 1.01
    let count = 0
    let squares = 0
    let any = 0
    for (let fall = 0; fall < FALLS; fall++) {
      let angle = 0
      do angle = 2 * Math.PI * random()
      while (random() * highest > densityAt(lobes, angle))
      let here = 0
      for (let k = howMany(random, people[fall % 2]!); k > 0; k--) {
        const [x, y] = placeIn(random, zone)
        const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
        if (within(silhouette, x * cos + y * sin, y * cos - x * sin)) here++
      }
      count += here
      squares += here * here
      if (here > 0) any++
    }
    const mean = count / FALLS
    const meanError = Math.sqrt((squares / FALLS - mean * mean) / FALLS)
    const share = any / FALLS
    const shareError = Math.sqrt((share * (1 - share)) / FALLS)
    expect(count).toBeGreaterThan(100)
    expect(Math.abs(got.people.mean - mean) / meanError).toBeLessThan(4)
    expect(Math.abs(got.pAny - share) / shareError).toBeLessThan(4)
  })
  it.each([1, 2, 3, 4])(
    'chance of touching, zone %d: falls whose outline holds a place of the zone',
    (seed) => {
      const random = seededNumbers(seed * 104729)
      const silhouette = shapes[2]![1](random)
      const zone = crookedZone(random, 8 + 4 * random(), 2 + 2 * random(), false)
      const places = Array.from({ length: 4000 }, () => placeIn(random, zone))
      const falls = 4000
      let touched = 0
      for (let fall = 0; fall < falls; fall++) {
        const angle = 2 * Math.PI * random()
        const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
        if (places.some(([x, y]) => within(silhouette, x * cos + y * sin, y * cos - x * sin))) touched++
      }
      const share = touched / falls
      const error = Math.sqrt((share * (1 - share)) / falls)
      const [got] = exposureOfSilhouette(silhouette, lobesOf(plain), [
        { id: 'z', polygons: [zone], areaM2: 1, hours: [], staticTarget: true },
      ]).zones
      // A hair of the zone between the places may be missed: one bearing in two hundred besides the standard error.
      expect(Math.abs(got!.pTouch.mean - share)).toBeLessThan(4 * error + 0.005)
    },
  )
})

const plain: FallingTree = {
  heightM: 15,
  stemDiameterCm: 40,
  crownBaseHeightM: 4,
  crownRadiiM: { n: 3, e: 3, s: 3, w: 3 },
  lean: null,
  clearingBearingDeg: null,
}
