import { addEdge, type Moments, momentsOf, noMoments } from '../plane/moments.ts'
import { clockwise, radians } from './around.ts'

/** Bearings at which the wall is drawn, and for the slice up to the next one, how deep an opening reaches in. */
export interface Slices {
  bearingsDeg: number[]
  sin: Float64Array
  cos: Float64Array
  /** Depth of an opening within the slice from this bearing to the next, cm from the outside of the wood; 0 for none. */
  openCm: Float64Array
  /** No opening anywhere. */
  closed: boolean
}

/** An opening as it cuts the wall: clockwise from one edge to the other, cm from the outside of the wood. */
export interface Cut {
  fromBearingDeg: number
  toBearingDeg: number
  depthCm: number
}

/** Slices at every step and at the edges of each opening. */
export function slicesOf(stepDeg: number, cuts: readonly Cut[]): Slices {
  const all = new Set<number>()
  for (let b = 0; b < 360; b += stepDeg) all.add(b)
  for (const cut of cuts) all.add(cut.fromBearingDeg).add(cut.toBearingDeg)
  const bearingsDeg = [...all].sort((a, b) => a - b)
  const openCm = Float64Array.from(bearingsDeg, (b) =>
    cuts.reduce(
      (depth, cut) =>
        clockwise(cut.fromBearingDeg, b) < clockwise(cut.fromBearingDeg, cut.toBearingDeg)
          ? Math.max(depth, cut.depthCm)
          : depth,
      0,
    ),
  )
  return {
    bearingsDeg,
    sin: Float64Array.from(bearingsDeg, (b) => Math.sin(radians(b))),
    cos: Float64Array.from(bearingsDeg, (b) => Math.cos(radians(b))),
    openCm,
    closed: cuts.length === 0,
  }
}

/**
 * What is left of a stem: firm wood between the outline and the inner edge of the wall, without the openings. Moments, and the corners
 * that may lie farthest out in some direction (flat pairs, east and north, cm). Null where nothing is left.
 *
 * @param outerCm outside of the firm wood at each bearing
 * @param wallCm  thickness of the wall there; null for wood to the middle
 */
export function wallSection(
  slices: Slices,
  outerCm: ArrayLike<number>,
  wallCm: ArrayLike<number> | null,
): { moments: Moments; corners: Float64Array } | null {
  const { sin, cos, openCm, closed } = slices
  const count = sin.length
  const sum = noMoments()
  const corners = new Float64Array(8 * count)
  let used = 0
  const corner = (x: number, y: number) => {
    corners[used++] = x
    corners[used++] = y
  }
  let joins = false
  for (let i = 0; i < count; i++) {
    const j = i + 1 < count ? i + 1 : 0
    const open = openCm[i]!
    const in0 = wallCm ? Math.max(0, outerCm[i]! - wallCm[i]!) : 0
    const in1 = wallCm ? Math.max(0, outerCm[j]! - wallCm[j]!) : 0
    const out0 = Math.max(in0, outerCm[i]! - open)
    const out1 = Math.max(in1, outerCm[j]! - open)
    if (out0 <= in0 && out1 <= in1) {
      joins = false
      continue
    }
    const x0 = out0 * sin[i]!
    const y0 = out0 * cos[i]!
    const x1 = out1 * sin[j]!
    const y1 = out1 * cos[j]!
    const u0 = in0 * sin[i]!
    const v0 = in0 * cos[i]!
    const u1 = in1 * sin[j]!
    const v1 = in1 * cos[j]!
    // Clockwise along the outside, back along the inside: the turning sense is the same for every slice.
    addEdge(sum, x0, y0, x1, y1)
    addEdge(sum, x1, y1, u1, v1)
    addEdge(sum, u1, v1, u0, v0)
    addEdge(sum, u0, v0, x0, y0)
    if (!joins || open !== openCm[i - 1]) corner(x0, y0)
    corner(x1, y1)
    // Without an opening every inner corner lies within the outer ones.
    if (!closed) {
      if (!joins) corner(u0, v0)
      corner(u1, v1)
    }
    joins = true
  }
  const moments = momentsOf(sum)
  return moments && { moments, corners: corners.subarray(0, used) }
}
