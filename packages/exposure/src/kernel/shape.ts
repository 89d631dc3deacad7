import { type Silhouette, silhouetteReachM } from '../silhouette.ts'

/** A silhouette as numbers that the inner loops read, with what never changes over bearings worked out once. */
export interface Shape {
  /** It ends in a crown: an ellipse at `c`. Otherwise it is a strip. */
  crowned: boolean
  /** A strip with round ends. */
  rounded: boolean
  /** Half width of the stem. */
  w: number
  /** Length of the stem's strip; centre of the crown. */
  c: number
  /** Semi-axes of the crown or of the round ends, along the fall and across it. */
  p: number
  q: number
  /** Greatest distance to either side. */
  across: number
  reachM: number
  /** Share of the crown's half width that the stem covers behind its centre, and the area under the half circle up to it. */
  covered: number
  coveredF: number
  /** Area of half the crown's lanes, all round or ahead of what the stem covers, in units of p q. */
  laneSum: number
}

/** Area under the half circle √(1 − y²) from 0 to y, y within −1..1. */
export const underHalfCircle = (y: number): number => (y * Math.sqrt(1 - y * y) + Math.asin(y)) / 2

export function shapeOf(s: Silhouette): Shape {
  const crowned = s.kind === 'crowned'
  const w = s.halfWidthM
  const q = crowned ? s.acrossM : w
  const covered = crowned ? Math.min(1, w / q) : 1
  const coveredF = underHalfCircle(covered)
  return {
    crowned,
    rounded: s.kind === 'capsule',
    w,
    c: crowned ? s.centreM : s.lengthM,
    p: crowned ? s.alongM : w,
    q,
    across: Math.max(q, w),
    reachM: silhouetteReachM(s),
    covered,
    coveredF,
    laneSum: Math.PI / 2 - coveredF,
  }
}

/** Writes into `out` the shape as it shows in plan when its length is foreshortened to a share; its width is not. */
export function foreshorten(s: Shape, share: number, out: Shape): Shape {
  out.c = s.c * share
  // The round ends of a capsule belong to its width.
  out.p = s.crowned ? s.p * share : s.p
  return out
}
