import { FULL_TURN } from '../bearing.ts'
import { type Silhouette, silhouetteReachM } from '../silhouette.ts'
import type { ZoneRings } from '../zone.ts'
import { type Overlap, overlapAt } from './area.ts'
import { shapeOf } from './shape.ts'

/**
 * Mean area shared by zone and silhouette when every bearing is alike, square metres, without turning the silhouette at
 * all: (1 / 2π) ∮ A(r) dφ along the zone's edges, A(r) the area of the silhouette within r of the pivot (Green's theorem
 * in polar form; model review, part 1.3). Edges are cut where A(r) has a kink, and each piece is integrated by Gauss nodes
 * crowded towards its ends, where square roots begin.
 */
export function evenMeanAreaM2(silhouette: Silhouette, zone: ZoneRings): number {
  // A crown narrower than its stem has no closed form here, and is a sapling's.
  if (silhouette.kind === 'crowned' && silhouette.acrossM <= silhouette.halfWidthM)
    return meanOverBearings(silhouette, zone)
  const within = withinRadius(silhouette)
  const kinks = kinksOf(silhouette)
  const { x, y, starts } = zone
  let sum = 0
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++)
      sum += alongEdge(x[i]!, y[i]!, x[i + 1]!, y[i + 1]!, within, kinks)
  return Math.max(0, sum / FULL_TURN)
}

// Gauss-Legendre, 16 points on 0..1 (the upper half; the rule is symmetric), with the cosine substitution folded in.
const HALF_NODES = [
  0.09501250983763744, 0.2816035507792589, 0.45801677765722737, 0.6178762444026438, 0.755404408355003,
  0.8656312023878318, 0.9445750230732326, 0.9894009349916499,
]
const HALF_WEIGHTS = [
  0.1894506104550685, 0.1826034150449236, 0.1691565193950025, 0.1495959888165767, 0.1246289712555339,
  0.0951585116824928, 0.0622535239386479, 0.0271524594117541,
]
const rule = [...HALF_NODES, ...HALF_NODES.map((n) => -n)].map((node, i) => {
  const y = (1 + node) / 2
  return {
    at: (1 - Math.cos(Math.PI * y)) / 2,
    weight: (HALF_WEIGHTS[i % 8]! / 4) * Math.PI * Math.sin(Math.PI * y),
  }
})

function alongEdge(
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  within: (r: number) => number,
  kinks: readonly number[],
): number {
  const length = Math.hypot(x1 - x0, y1 - y0)
  if (length === 0) return 0
  const distance = (x0 * y1 - y0 * x1) / length
  const far = Math.abs(distance)
  if (far < 1e-12) return 0
  const from = (x0 * (x1 - x0) + y0 * (y1 - y0)) / length
  const to = from + length
  const cuts = [from, to]
  const cut = (at: number) => {
    if (at > from && at < to) cuts.push(at)
  }
  cut(0)
  for (const kink of kinks)
    if (kink > far) {
      const along = Math.sqrt(kink * kink - far * far)
      cut(along)
      cut(-along)
    }
  cuts.sort((a, b) => a - b)
  const last = kinks[kinks.length - 1]!
  let sum = 0
  for (let i = 0; i + 1 < cuts.length; i++) {
    const start = Math.atan2(cuts[i]!, far)
    const angle = Math.atan2(cuts[i + 1]!, far) - start
    if (angle < 1e-15) continue
    if (Math.hypot((cuts[i]! + cuts[i + 1]!) / 2, far) >= last) sum += angle * within(last)
    else for (const { at, weight } of rule) sum += weight * angle * within(far / Math.cos(start + angle * at))
  }
  return Math.sign(distance) * sum
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
  const roots = (Math.abs(a) < 1e-14 ? [constant / big] : [big / a, constant / big])
    .filter((x) => x <= 1 && x >= -1)
    .sort((x, y) => y - x)
  const beyond = (x: number) => {
    const turn = Math.acos(x)
    const t = Math.atan2((r * Math.sin(turn)) / q, (r * x - c) / p)
    return r * r * turn - p * q * t - c * q * Math.sin(t)
  }
  if (r < c + p) return Math.PI * p * q + beyond(roots[roots.length - 1]!)
  if (roots.length < 2) return Math.PI * p * q
  return Math.PI * p * q + beyond(roots[1]!) - beyond(roots[0]!)
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
