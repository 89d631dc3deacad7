/**
 * The kernel against its reference rows, against general-purpose polygon clipping (Turf) at sampled bearings, and against
 * seeded simulation, |z| < 4 of its standard error.
 */
import { type Silhouette, silhouetteAreaM2 } from '@underbough/exposure'
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
import { crookedZone, sharedAreaByTurf } from './exposure-slow.ts'

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
