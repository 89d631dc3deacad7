import { FULL_TURN } from '../bearing.ts'
import { type Silhouette, silhouetteReachM } from '../silhouette.ts'
import { type Overlap, overlapAt } from './area.ts'
import type { ZoneRings } from './rings.ts'
import { gaussRule } from './rules.ts'
import { shapeOf } from './shape.ts'

/**
 * Mean area shared by zone and silhouette when every bearing is alike, square metres, without turning the silhouette at
 * all: (1 / 2π) ∮ A(r) dφ along the zone's edges, A(r) the area of the silhouette within r of the pivot (Green's theorem
 * in polar form; model review, part 1.3). Edges are cut where A(r) has a kink, and each piece is integrated by Gauss nodes
 * crowded towards its ends, where square roots begin.
 */
export function evenMeanAreaM2(silhouette: Silhouette, zone: ZoneRings): number {
  return evenMean(evenShapeOf(silhouette), zone)
}

/** A silhouette for the polar form, laid out once for all zones of a tree. */
export interface EvenShape {
  silhouette: Silhouette
  /** Area within a distance of the pivot; none where there is no closed form. */
  within: ((r: number) => number) | null
  /** Distances at which it changes its formula, ascending; the last is the reach. */
  kinks: number[]
}

export function evenShapeOf(silhouette: Silhouette): EvenShape {
  // A crown narrower than its stem has no closed form here, and is a sapling's.
  if (silhouette.kind === 'crowned' && silhouette.acrossM <= silhouette.halfWidthM)
    return { silhouette, within: null, kinks: [] }
  return { silhouette, within: withinRadius(silhouette), kinks: kinksOf(silhouette) }
}

export function evenMean({ silhouette, within, kinks }: EvenShape, zone: ZoneRings): number {
  if (!within) return meanOverBearings(silhouette, zone)
  const { x, y, starts } = zone
  let sum = 0
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++)
      sum += alongEdge(x[i]!, y[i]!, x[i + 1]!, y[i + 1]!, within, kinks)
  return Math.max(0, sum / FULL_TURN)
}

// Gauss-Legendre on 0..1 with the cosine substitution folded in, by which it is crowded towards both ends.
const POINTS = 16
const rule = gaussRule(POINTS)
const AT = rule.at.map((y) => (1 - Math.cos(Math.PI * y)) / 2)
const WEIGHT = rule.weight.map((weight, i) => (weight * Math.PI * Math.sin(Math.PI * rule.at[i]!)) / 2)
const cuts = new Float64Array(16)

function alongEdge(
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  within: (r: number) => number,
  kinks: readonly number[],
): number {
  const dx = x1 - x0
  const dy = y1 - y0
  const length = Math.sqrt(dx * dx + dy * dy)
  if (length === 0) return 0
  const distance = (x0 * y1 - y0 * x1) / length
  const far = Math.abs(distance)
  if (far < 1e-12) return 0
  const from = (x0 * dx + y0 * dy) / length
  const to = from + length
  const last = kinks[kinks.length - 1]!
  // Places along the edge from the foot of its normal, ascending: what lies before, then kinks inwards, the foot, outwards.
  let count = 0
  cuts[count++] = from
  for (let k = kinks.length - 1; k >= 0; k--) {
    const kink = kinks[k]!
    if (kink <= far) continue
    const along = -Math.sqrt(kink * kink - far * far)
    if (along > from && along < to) cuts[count++] = along
  }
  if (from < 0 && to > 0) cuts[count++] = 0
  for (let k = 0; k < kinks.length; k++) {
    const kink = kinks[k]!
    if (kink <= far) continue
    const along = Math.sqrt(kink * kink - far * far)
    if (along > from && along < to) cuts[count++] = along
  }
  cuts[count] = to
  let sum = 0
  for (let i = 0; i < count; i++) {
    const start = Math.atan2(cuts[i]!, far)
    const angle = Math.atan2(cuts[i + 1]!, far) - start
    if (angle < 1e-15) continue
    const middle = (cuts[i]! + cuts[i + 1]!) / 2
    if (middle * middle + far * far >= last * last) sum += angle * within(last)
    else
      for (let k = 0; k < POINTS; k++) {
        const at = start + angle * AT[k]!
        sum += WEIGHT[k]! * angle * within(far / Math.cos(at))
      }
  }
  return distance < 0 ? -sum : sum
}

/** Radii at which A(r) changes its formula, ascending; beyond the last it is the whole area. */
function kinksOf(s: Silhouette): number[] {
  const w = s.halfWidthM
  const kinks =
    s.kind === 'strip'
      ? [w, s.lengthM]
      : s.kind === 'capsule'
        ? [w, Math.hypot(s.lengthM, w)]
        : [w, shoulderM(s), s.centreM + s.alongM]
  return [...kinks, silhouetteReachM(s)].sort((a, b) => a - b)
}

type Crowned = Extract<Silhouette, { kind: 'crowned' }>

/** Distance of the place where the crown's edge leaves the stem. */
function shoulderM({ halfWidthM: w, centreM: c, alongM: p, acrossM: q }: Crowned): number {
  return Math.hypot(c - p * Math.sqrt(1 - (w / q) ** 2), w)
}

/** Area of the silhouette within a distance of its pivot, square metres, as a function of that distance. */
export function withinRadius(s: Silhouette): (r: number) => number {
  const w = s.halfWidthM
  if (s.kind === 'strip') {
    const corner = Math.hypot(s.lengthM, w)
    return (r) =>
      r >= corner ? 2 * w * s.lengthM : halfStrip(r, w) - (r > s.lengthM ? circleBeyond(r, s.lengthM) : 0)
  }
  if (s.kind === 'capsule') {
    const corner = Math.hypot(s.lengthM, w)
    return (r) =>
      r <= w
        ? Math.PI * r * r
        : r <= corner
          ? (Math.PI * w * w) / 2 + halfStrip(r, w)
          : 2 * w * s.lengthM + ellipseWithin(r, s.lengthM, w, w)
  }
  const { centreM: c, alongM: p, acrossM: q } = s
  const shoulder = shoulderM(s)
  const before = halfStrip(shoulder, w) - ellipseWithin(shoulder, c, p, q)
  return (r) => (r <= shoulder ? halfStrip(r, w) : before + ellipseWithin(r, c, p, q))
}

/** The endless strip u ≥ 0, |v| ≤ w within r of its pivot. */
const halfStrip = (r: number, w: number) =>
  r <= w ? (Math.PI * r * r) / 2 : r * r * Math.asin(w / r) + w * Math.sqrt(r * r - w * w)

/** The part of a circle about the pivot that lies beyond u = length. */
const circleBeyond = (r: number, length: number) =>
  r * r * Math.acos(length / r) - length * Math.sqrt(r * r - length * length)

/** An ellipse at distance c (semi-axes p along, q across; the pivot not inside it) within r of the pivot, or a disc that may hold it. */
function ellipseWithin(r: number, c: number, p: number, q: number): number {
  if (r <= Math.abs(c - p)) return c >= p ? 0 : Math.PI * r * r
  const a = r * r * (1 / (p * p) - 1 / (q * q))
  const b = (-2 * c * r) / (p * p)
  const constant = (c * c) / (p * p) + (r * r) / (q * q) - 1
  const inner = b * b - 4 * a * constant
  if (r >= c + p && (q <= p || inner <= 0)) return Math.PI * p * q
  const big = -(b + (b < 0 ? -1 : 1) * Math.sqrt(Math.max(0, inner))) / 2
  // The circle meets the ellipse once above the axis where it cuts its tip, twice where it passes beyond the tip.
  const one = constant / big
  const other = Math.abs(a) < 1e-14 ? Number.NaN : big / a
  const hasOne = one <= 1 && one >= -1
  const hasOther = other <= 1 && other >= -1
  const nearer = !hasOther || (hasOne && one < other) ? one : other
  if (r < c + p) return Math.PI * p * q + beyond(nearer, r, c, p, q)
  if (!hasOne || !hasOther) return Math.PI * p * q
  return Math.PI * p * q + beyond(nearer, r, c, p, q) - beyond(nearer === one ? other : one, r, c, p, q)
}

/** What lies between circle and ellipse from a crossing at the angle with that cosine to the axis. */
function beyond(cos: number, r: number, c: number, p: number, q: number): number {
  const sin = Math.sqrt(1 - cos * cos)
  const aside = (r * sin) / q
  return r * r * Math.acos(cos) - p * q * Math.atan2(aside, (r * cos - c) / p) - c * q * aside
}

const BEARINGS = 720

function meanOverBearings(silhouette: Silhouette, zone: ZoneRings): number {
  const out: Overlap = { stemM2: 0, crownM2: 0 }
  const shape = shapeOf(silhouette)
  let sum = 0
  for (let i = 0; i < BEARINGS; i++) {
    const angle = ((i + 0.5) * FULL_TURN) / BEARINGS
    overlapAt(shape, zone, Math.cos(angle), Math.sin(angle), out)
    sum += out.stemM2 + out.crownM2
  }
  return Math.max(0, sum / BEARINGS)
}
