import type { Arc } from '../arcs.ts'
import { FULL_TURN, wrapAngle } from '../bearing.ts'
import type { Silhouette } from '../silhouette.ts'
import type { ZoneRings } from '../zone.ts'
import { type Overlap, overlapAt } from './area.ts'

/** Less shared area than this, square metres, is rounding and no contact. */
export const TOUCH_FLOOR_M2 = 1e-10
const SAME_ANGLE = 1e-12
// Events a hair outside their span are kept: one too many is tried in vain, one too few would lose a contact.
const SLACK = 1e-9

/**
 * The fall angles at which the silhouette overlaps the zone, exactly. Touching can begin or end only at an event: a corner
 * of the zone on the silhouette's outline, a corner of the silhouette on an edge, or an edge tangent to a round part.
 * Between neighbouring events one trial at the middle decides.
 */
export function touchingArcs(
  silhouette: Silhouette,
  zone: ZoneRings,
  events: readonly number[] = contactEvents(silhouette, zone),
): Arc[] {
  const out: Overlap = { stemM2: 0, crownM2: 0 }
  const touches = (angle: number) => {
    overlapAt(silhouette, zone, Math.cos(angle), Math.sin(angle), out)
    return out.stemM2 + out.crownM2 > TOUCH_FLOOR_M2
  }
  if (events.length === 0) return touches(0) ? [[0, FULL_TURN]] : []
  const arcs: [number, number][] = []
  for (let i = 0; i < events.length; i++) {
    const from = events[i]!
    const to = i + 1 < events.length ? events[i + 1]! : events[0]! + FULL_TURN
    if (to - from < SAME_ANGLE || !touches((from + to) / 2)) continue
    const last = arcs[arcs.length - 1]
    if (last && from - last[1] < 1e-11) last[1] = to
    else arcs.push([from, to])
  }
  return joinAcrossEast(arcs)
}

function joinAcrossEast(arcs: [number, number][]): Arc[] {
  const first = arcs[0]
  const last = arcs[arcs.length - 1]
  if (!first || !last) return arcs
  if (first === last) return last[1] - last[0] > FULL_TURN - 1e-11 ? [[0, FULL_TURN]] : arcs
  if (last[1] - FULL_TURN >= first[0] - 1e-11) return [[last[0], first[1] + FULL_TURN], ...arcs.slice(1, -1)]
  return arcs
}

/** Every angle at which touching may begin or end, ascending, 0 to below 2π. */
export function contactEvents(silhouette: Silhouette, zone: ZoneRings): number[] {
  const events: number[] = []
  const { x, y, starts } = zone
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const edge = edgeOf(x[i]!, y[i]!, x[i + 1]!, y[i + 1]!)
      if (silhouette.kind === 'crowned') {
        const { centreM: c, halfWidthM: w, alongM: p, acrossM: q } = silhouette
        stripEvents(events, edge, c, w, q <= w)
        ellipseEvents(events, edge, c, p, q)
      } else {
        const { lengthM, halfWidthM: w } = silhouette
        stripEvents(events, edge, lengthM, w, silhouette.kind === 'strip')
        if (silhouette.kind === 'capsule') {
          ellipseEvents(events, edge, lengthM, w, w)
          ellipseEvents(events, edge, 0, w, w)
        }
      }
    }
  for (let i = 0; i < events.length; i++) events[i] = wrapAngle(events[i]!)
  events.sort((a, b) => a - b)
  return events
}

interface Edge {
  /** Distance and angle of the edge's first corner. */
  r: number
  phi: number
  /** Signed distance of the edge's line from the pivot, along a normal at angle `normal`. */
  d: number
  normal: number
  /** Places of the two ends along the line, from the foot of the normal, counter-clockwise from it. */
  from: number
  to: number
}

function edgeOf(x0: number, y0: number, x1: number, y1: number): Edge {
  const length = Math.hypot(x1 - x0, y1 - y0)
  const nx = length > 0 ? (y1 - y0) / length : 1
  const ny = length > 0 ? (x0 - x1) / length : 0
  const from = -x0 * ny + y0 * nx
  return {
    r: Math.hypot(x0, y0),
    phi: Math.atan2(y0, x0),
    d: x0 * nx + y0 * ny,
    normal: Math.atan2(ny, nx),
    from,
    to: from + length,
  }
}

/** The strip 0 ≤ u ≤ length, |v| ≤ w. Its far end counts only where nothing else covers it. */
function stripEvents(events: number[], edge: Edge, length: number, w: number, openEnd: boolean): void {
  const { r, phi } = edge
  if (r >= w) {
    // A corner of the zone on one of the long sides.
    const beside = Math.asin(w / r)
    if (r * Math.cos(beside) <= length + SLACK) events.push(phi + beside, phi - beside)
  } else events.push(phi + Math.PI / 2, phi - Math.PI / 2)
  if (openEnd && r >= length && r <= Math.hypot(length, w) + SLACK) {
    const end = Math.acos(length / r)
    events.push(phi + end, phi - end)
  }
  cornerEvents(events, edge, w, Math.PI / 2)
  if (openEnd) cornerEvents(events, edge, Math.hypot(length, w), Math.atan2(w, length))
}

/** The two corners of a strip at distance `far`, at angles ± `aside` from the fall, on the edge. */
function cornerEvents(events: number[], edge: Edge, far: number, aside: number): void {
  const cos = edge.d / far
  if (cos > 1 || cos < -1) return
  const turn = Math.acos(cos)
  const along = Math.sqrt(Math.max(0, far * far - edge.d * edge.d))
  if (along >= edge.from - SLACK && along <= edge.to + SLACK)
    events.push(edge.normal + turn - aside, edge.normal + turn + aside)
  if (-along >= edge.from - SLACK && -along <= edge.to + SLACK)
    events.push(edge.normal - turn - aside, edge.normal - turn + aside)
}

/** An ellipse at distance c along the fall, semi-axes p along and q across. */
function ellipseEvents(events: number[], edge: Edge, c: number, p: number, q: number): void {
  const { r, phi, d, normal } = edge
  // A corner of the zone on the ellipse: a quadratic in the cosine of the angle between them.
  cosineRoots(
    events,
    phi,
    r * r * (1 / (p * p) - 1 / (q * q)),
    (-2 * r * c) / (p * p),
    (c * c) / (p * p) + (r * r) / (q * q) - 1,
  )
  // The edge's line tangent to the ellipse.
  cosineRoots(events, normal, c * c - p * p + q * q, -2 * c * d, d * d - q * q)
}

function cosineRoots(events: number[], about: number, a: number, b: number, constant: number): void {
  const scale = Math.abs(a) + Math.abs(b) + Math.abs(constant)
  if (Math.abs(a) < 1e-13 * scale) {
    if (b !== 0) addCosine(events, about, -constant / b)
    return
  }
  const inner = b * b - 4 * a * constant
  // Two roots that fall together count, though rounding may put them just apart.
  if (inner < -1e-12 * b * b) return
  const far = -(b + (b < 0 ? -1 : 1) * Math.sqrt(Math.max(0, inner))) / 2
  addCosine(events, about, far / a)
  if (far !== 0) addCosine(events, about, constant / far)
}

function addCosine(events: number[], about: number, cos: number): void {
  if (cos > 1 + SLACK || cos < -1 - SLACK) return
  const turn = Math.acos(Math.min(1, Math.max(-1, cos)))
  events.push(about + turn, about - turn)
}
