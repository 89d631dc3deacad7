/**
 * The slow truth for exposure: outlines as polygons cut against zones by a general-purpose library (Turf), and falls and
 * people thrown at random. Nothing here uses the package's formulas.
 */

import { featureCollection, intersect, polygon, union } from '@turf/turf'
import type { Silhouette } from '@underbough/exposure'

export type Ring = [number, number][]

export const closed = (ring: Ring): Ring => [...ring, ring[0]!]

export function planarArea(rings: number[][][]): number {
  const one = (r: number[][]) =>
    Math.abs(
      r.reduce((s, [x, y], i) => s + x! * r[(i + 1) % r.length]![1]! - r[(i + 1) % r.length]![0]! * y!, 0),
    ) / 2
  return one(rings[0]!) - rings.slice(1).reduce((s, r) => s + one(r), 0)
}

const turned = (ring: Ring, angle: number): Ring =>
  ring.map(([u, v]) => [u * Math.cos(angle) - v * Math.sin(angle), u * Math.sin(angle) + v * Math.cos(angle)])

/** An ellipse as chords, scaled so that its area is that of the ellipse. */
function ellipse(c: number, p: number, q: number, chords: number): Ring {
  const step = (2 * Math.PI) / chords
  const scale = Math.sqrt(step / Math.sin(step))
  return Array.from({ length: chords }, (_, i) => [
    c + scale * p * Math.cos(i * step),
    scale * q * Math.sin(i * step),
  ])
}

const strip = (length: number, w: number): Ring => [
  [0, -w],
  [length, -w],
  [length, w],
  [0, w],
]

/** Shared area of silhouette and zone by polygon clipping, m². */
export function sharedAreaByTurf(s: Silhouette, angle: number, zone: Ring[], chords = 240): number {
  const pieces: Ring[] =
    s.kind === 'crowned'
      ? [strip(s.centreM, s.halfWidthM), ellipse(s.centreM, s.alongM, s.acrossM, chords)]
      : s.kind === 'strip'
        ? [strip(s.lengthM, s.halfWidthM)]
        : [
            strip(s.lengthM, s.halfWidthM),
            ellipse(0, s.halfWidthM, s.halfWidthM, chords),
            ellipse(s.lengthM, s.halfWidthM, s.halfWidthM, chords),
          ]
  const shapes = pieces.map((ring) => polygon([closed(turned(ring, angle))]))
  const outline = shapes.length === 1 ? shapes[0]! : union(featureCollection(shapes))!
  const shared = intersect(featureCollection([outline, polygon(zone.map(closed))]))
  if (!shared) return 0
  const parts =
    shared.geometry.type === 'Polygon' ? [shared.geometry.coordinates] : shared.geometry.coordinates
  return parts.reduce((sum, rings) => sum + planarArea(rings), 0)
}

/** Whether a place in the silhouette's own frame lies within it, by the definition of the shape. */
export function within(s: Silhouette, u: number, v: number): boolean {
  const w = s.halfWidthM
  if (s.kind === 'strip') return u >= 0 && u <= s.lengthM && Math.abs(v) <= w
  if (s.kind === 'capsule') return Math.hypot(u - Math.min(s.lengthM, Math.max(0, u)), v) <= w
  return (
    (u >= 0 && u <= s.centreM && Math.abs(v) <= w) ||
    ((u - s.centreM) / s.alongM) ** 2 + (v / s.acrossM) ** 2 <= 1
  )
}

/** A crooked, not convex ring about a place, and where asked a hole of the same shape in it. */
export function crookedZone(random: () => number, away: number, size: number, holed: boolean): Ring[] {
  const bearing = random() * 2 * Math.PI
  const [cx, cy] = [away * Math.cos(bearing), away * Math.sin(bearing)]
  const corners = 4 + Math.floor(random() * 6)
  const arms = Array.from({ length: corners }, (_, i) => ({
    a: ((i + 0.8 * random()) * 2 * Math.PI) / corners,
    r: size * (0.3 + 0.7 * random()),
  }))
  const ring = (scale: number): Ring =>
    arms.map(({ a, r }) => [cx + scale * r * Math.cos(a), cy + scale * r * Math.sin(a)])
  return holed ? [ring(1), ring(0.4)] : [ring(1)]
}

export function inRing(ring: Ring, x: number, y: number): boolean {
  let inside = false
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i]!
    const [xj, yj] = ring[j]!
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside
  }
  return inside
}

/** A place spread evenly over a zone. */
export function placeIn(random: () => number, zone: Ring[]): [number, number] {
  const xs = zone[0]!.map((p) => p[0])
  const ys = zone[0]!.map((p) => p[1])
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  for (;;) {
    const x = x0 + random() * (x1 - x0)
    const y = y0 + random() * (y1 - y0)
    if (zone.every((ring, i) => inRing(ring, x, y) === (i === 0))) return [x, y]
  }
}

/** A number of people about a mean, each independent of the rest (Poisson, by Knuth's product of numbers). */
export function howMany(random: () => number, mean: number): number {
  const limit = Math.exp(-mean)
  let product = random()
  let count = 0
  while (product > limit) {
    product *= random()
    count++
  }
  return count
}
