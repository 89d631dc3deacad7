/**
 * The kernel against general-purpose polygon clipping (Turf) at sampled bearings, against the polar form, and against
 * seeded simulation with its standard error.
 */
import { describe, expect, it } from 'vitest'
import { silhouetteAreaM2 } from '@underbough/exposure'
import { withinRadius, evenMeanAreaM2 } from '../../packages/exposure/src/kernel/radial.ts'
import { zoneRings } from '../../packages/exposure/src/zone.ts'
import { ellipseRows, polygonRows, radialRows, ringOf, swallowingRows } from './exposure-rows.ts'

describe('area of the silhouette within a distance of the pivot (reference rows)', () => {
  it.each(radialRows)('%o within %d m', (silhouette, withinM, areaM2, countedM2) => {
    expect(Math.abs(withinRadius(silhouette)(withinM) - areaM2)).toBeLessThan(1e-6)
    expect(Math.abs(areaM2 - countedM2)).toBeLessThan(0.01)
  })
})

describe('the polar form, all directions alike', () => {
  it.each([...polygonRows, ...ellipseRows])('$silhouette on $ring', (row) => {
    const rings = [row.ring, ...(row.hole ? [row.hole] : [])].map(ringOf)
    expect(Math.abs(evenMeanAreaM2(row.silhouette, zoneRings([rings])) - row.areaM2)).toBeLessThan(2e-8)
  })
  it.each(swallowingRows)('%o swallowed', (silhouette, areaM2) => {
    const square = ringOf('-40 -40, 40 -40, 40 40, -40 40')
    expect(evenMeanAreaM2(silhouette, zoneRings([[square]]))).toBeCloseTo(areaM2, 7)
    expect(silhouetteAreaM2(silhouette)).toBeCloseTo(areaM2, 7)
  })
})
