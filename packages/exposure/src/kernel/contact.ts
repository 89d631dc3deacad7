import { type Arc, joinAcrossEast } from '../arcs.ts'
import { FULL_TURN } from '../bearing.ts'
import { type Overlap, overlapAt } from './area.ts'
import { Events } from './events.ts'
import type { ZoneRings } from './rings.ts'
import type { Shape } from './shape.ts'

/** Less shared area than this, square metres, is rounding and no contact. */
export const TOUCH_FLOOR_M2 = 1e-10
const SAME_ANGLE = 1e-12
// Events a hair outside their span are kept: one too many is tried in vain, one too few would lose a contact.
const SLACK = 1e-9

const scratch = new Events()
const out: Overlap = { stemM2: 0, crownM2: 0 }

/**
 * The fall angles at which the silhouette overlaps the zone, exactly. Touching can begin or end only at an event: a corner
 * of the zone on the silhouette's outline, a corner of the silhouette on an edge, or an edge tangent to a round part.
 * Between neighbouring events one trial at the middle decides.
 */
export function touchingArcs(shape: Shape, zone: ZoneRings): Arc[] {
  contactEvents(shape, zone, scratch)
  const flat: number[] = []
  flatTouching(shape, zone, scratch, flat)
  return joinAcrossEast(flat)
}

/** The same from its events, as from and to one after the other, ascending within 0 and 2π, added to `arcs`. */
export function flatTouching(shape: Shape, zone: ZoneRings, events: Events, arcs: number[]): void {
  const { angle, count } = events
  if (count === 0) {
    if (touches(shape, zone, 0)) arcs.push(0, FULL_TURN)
    return
  }
  const first = angle[0]!
  const last = angle[count - 1]!
  const over = touches(shape, zone, (last + first + FULL_TURN) / 2)
  if (over && first > 0) addArc(arcs, 0, first)
  for (let i = 0; i + 1 < count; i++) {
    const from = angle[i]!
    const to = angle[i + 1]!
    if (to - from >= SAME_ANGLE && touches(shape, zone, (from + to) / 2)) addArc(arcs, from, to)
  }
  if (over) addArc(arcs, last, FULL_TURN)
}

export function addArc(arcs: number[], from: number, to: number): void {
  const n = arcs.length
  if (n > 0 && from - arcs[n - 1]! < 1e-11) arcs[n - 1] = to
  else arcs.push(from, to)
}

function touches(shape: Shape, zone: ZoneRings, angle: number): boolean {
  overlapAt(shape, zone, Math.cos(angle), Math.sin(angle), out)
  return out.stemM2 + out.crownM2 > TOUCH_FLOOR_M2
}

/** Puts into `events` every angle at which touching may begin or end or the shared area has a kink, ascending. */
export function contactEvents(shape: Shape, { x, y, starts }: ZoneRings, events: Events): void {
  events.count = 0
  const { crowned, c, w, p, q, reachM } = shape
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const x0 = x[i]!
      const y0 = y[i]!
      const r = Math.sqrt(x0 * x0 + y0 * y0)
      if (r <= reachM + SLACK) {
        const phi = Math.atan2(y0, x0)
        if (crowned) {
          sideEvents(events, r, phi, c, w, q <= w)
          ellipseCorner(events, r, phi, c, p, q)
        } else {
          sideEvents(events, r, phi, c, w, !shape.rounded)
          if (shape.rounded) {
            ellipseCorner(events, r, phi, c, w, w)
            ellipseCorner(events, r, phi, 0, w, w)
          }
        }
      }
      const dx = x[i + 1]! - x0
      const dy = y[i + 1]! - y0
      const length = Math.sqrt(dx * dx + dy * dy)
      if (length === 0) continue
      const nx = dy / length
      const ny = -dx / length
      const d = x0 * nx + y0 * ny
      if (d > reachM + SLACK || d < -reachM - SLACK) continue
      const from = y0 * nx - x0 * ny
      const to = from + length
      const normal = Math.atan2(ny, nx)
      stripCorner(events, d, normal, from, to, w, Math.PI / 2)
      if (crowned ? q <= w : !shape.rounded)
        stripCorner(events, d, normal, from, to, Math.hypot(c, w), Math.atan2(w, c))
      if (crowned) tangent(events, d, normal, from, to, c, p, q)
      else if (shape.rounded) {
        tangent(events, d, normal, from, to, c, w, w)
        tangent(events, d, normal, from, to, 0, w, w)
      }
    }
  events.sort()
}

/** A corner of the zone on a long side of the strip 0 ≤ u ≤ length, |v| ≤ w, on its butt, or on its far end if that is open. */
function sideEvents(events: Events, r: number, phi: number, length: number, w: number, openEnd: boolean) {
  if (r < w) {
    events.add(phi + Math.PI / 2, 0)
    events.add(phi - Math.PI / 2, 0)
  } else if (r * r <= length * length + w * w + SLACK) {
    const beside = Math.asin(w / r)
    events.add(phi + beside, 0)
    events.add(phi - beside, 0)
  }
  if (openEnd && r >= length && r <= Math.hypot(length, w) + SLACK) {
    const end = Math.acos(length / r)
    events.add(phi + end, 0)
    events.add(phi - end, 0)
  }
}

/** The two corners of a strip at distance `far`, at angles ± `aside` from the fall, on an edge. */
function stripCorner(
  events: Events,
  d: number,
  normal: number,
  from: number,
  to: number,
  far: number,
  aside: number,
): void {
  const cos = d / far
  if (cos > 1 || cos < -1) return
  const turn = Math.acos(cos)
  const along = Math.sqrt(Math.max(0, far * far - d * d))
  if (along >= from - SLACK && along <= to + SLACK) {
    events.add(normal + turn - aside, 0)
    events.add(normal + turn + aside, 0)
  }
  if (-along >= from - SLACK && -along <= to + SLACK) {
    events.add(normal - turn - aside, 0)
    events.add(normal - turn + aside, 0)
  }
}

const roots = new Float64Array(2)

/** A corner of the zone on an ellipse at distance c along the fall, semi-axes p and q: a quadratic in the cosine between them. */
function ellipseCorner(events: Events, r: number, phi: number, c: number, p: number, q: number): void {
  const perP = 1 / (p * p)
  const count = cosines(r * r * (perP - 1 / (q * q)), -2 * r * c * perP, c * c * perP + (r * r) / (q * q) - 1)
  for (let k = 0; k < count; k++) {
    const turn = Math.acos(roots[k]!)
    events.add(phi + turn, 0)
    events.add(phi - turn, 0)
  }
}

/** An edge tangent to the ellipse, at a place between its ends. */
function tangent(
  events: Events,
  d: number,
  normal: number,
  from: number,
  to: number,
  c: number,
  p: number,
  q: number,
): void {
  const count = cosines(c * c - p * p + q * q, -2 * c * d, d * d - q * q)
  for (let k = 0; k < count; k++) {
    const cos = roots[k]!
    const sin = Math.sqrt(1 - cos * cos)
    // Where along the edge's line, from the foot of its normal, when the fall is turned to either side of it.
    const place = sin * (((q * q - p * p) * cos) / (d - c * cos) - c)
    if (!(place < from - PLACE_SLACK || place > to + PLACE_SLACK)) events.add(normal - Math.acos(cos), 1)
    if (!(-place < from - PLACE_SLACK || -place > to + PLACE_SLACK)) events.add(normal + Math.acos(cos), 1)
  }
}

/** Near the ends of an edge a tangent event and a corner's come together; rounding must not lose both. */
const PLACE_SLACK = 1e-6

/** Roots within −1..1 of a x² + b x + constant, put into `roots`; their number. */
function cosines(a: number, b: number, constant: number): number {
  const scale = Math.abs(a) + Math.abs(b) + Math.abs(constant)
  let count = 0
  if (Math.abs(a) < 1e-13 * scale) return b === 0 ? 0 : keep(-constant / b, 0)
  const inner = b * b - 4 * a * constant
  // Two roots that fall together count, though rounding may put them just apart.
  if (inner < -1e-12 * b * b) return 0
  const far = -(b + (b < 0 ? -1 : 1) * Math.sqrt(Math.max(0, inner))) / 2
  count = keep(far / a, count)
  if (far !== 0) count = keep(constant / far, count)
  return count
}

function keep(cos: number, count: number): number {
  if (!(cos <= 1 + SLACK && cos >= -1 - SLACK)) return count
  roots[count] = Math.min(1, Math.max(-1, cos))
  return count + 1
}
