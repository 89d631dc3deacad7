import type { Silhouette } from '../silhouette.ts'
import type { ZoneRings } from '../zone.ts'
import { crownEdge, stripEdge } from './lanes.ts'

/** Areas of silhouette ∩ zone, square metres: within the stem or limb wood, and within the crown outside it. */
export interface Overlap {
  stemM2: number
  crownM2: number
}

/**
 * Area of the silhouette fallen along (cos, sin) that lies in the zone, in closed form. Writes into `out` and returns it:
 * the kernel's inner loop makes no objects.
 */
export function overlapAt(
  silhouette: Silhouette,
  zone: ZoneRings,
  cos: number,
  sin: number,
  out: Overlap,
): Overlap {
  if (silhouette.kind === 'crowned')
    crownedOverlap(
      zone,
      cos,
      sin,
      silhouette.halfWidthM,
      silhouette.centreM,
      silhouette.alongM,
      silhouette.acrossM,
      out,
    )
  else
    stemOverlap(zone, cos, sin, silhouette.halfWidthM, silhouette.lengthM, silhouette.kind === 'capsule', out)
  return out
}

/** The crown is its ellipse less the part behind its centre that the stem covers already. */
function crownedOverlap(
  { x, y, starts }: ZoneRings,
  cos: number,
  sin: number,
  w: number,
  c: number,
  p: number,
  q: number,
  out: Overlap,
): void {
  const across = Math.max(q, w)
  const base = c - p
  const covered = Math.min(1, w / q)
  let stem = 0
  let crown = 0
  for (let ring = 0; ring + 1 < starts.length; ring++) {
    const first = starts[ring]!
    const end = starts[ring + 1]!
    let u0 = x[first]! * cos + y[first]! * sin
    let v0 = y[first]! * cos - x[first]! * sin
    for (let i = first + 1; i < end; i++) {
      const u1 = x[i]! * cos + y[i]! * sin
      const v1 = y[i]! * cos - x[i]! * sin
      if (!((u0 <= 0 && u1 <= 0) || (v0 >= across && v1 >= across) || (v0 <= -across && v1 <= -across))) {
        if (!((v0 >= w && v1 >= w) || (v0 <= -w && v1 <= -w))) stem += stripEdge(u0, v0, u1, v1, c, w)
        if (u0 > base || u1 > base) crown += crownEdge((u0 - c) / p, v0 / q, (u1 - c) / p, v1 / q, covered)
      }
      u0 = u1
      v0 = v1
    }
  }
  out.stemM2 = stem
  out.crownM2 = crown * p * q
}

function stemOverlap(
  { x, y, starts }: ZoneRings,
  cos: number,
  sin: number,
  w: number,
  length: number,
  rounded: boolean,
  out: Overlap,
): void {
  let stem = 0
  let ends = 0
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const u0 = x[i]! * cos + y[i]! * sin
      const v0 = y[i]! * cos - x[i]! * sin
      const u1 = x[i + 1]! * cos + y[i + 1]! * sin
      const v1 = y[i + 1]! * cos - x[i + 1]! * sin
      if ((v0 >= w && v1 >= w) || (v0 <= -w && v1 <= -w)) continue
      stem += stripEdge(u0, v0, u1, v1, length, w)
      if (!rounded) continue
      ends += crownEdge((u0 - length) / w, v0 / w, (u1 - length) / w, v1 / w, 1)
      // The butt is the same half disc seen from the other side, which turns the ring about.
      ends -= crownEdge(-u0 / w, v0 / w, -u1 / w, v1 / w, 1)
    }
  out.stemM2 = stem + ends * w * w
  out.crownM2 = 0
}
