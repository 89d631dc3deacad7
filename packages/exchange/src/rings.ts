import { type Plane, type Position, planeAt, type Refusal } from '@underbough/model'
import { say } from './codes.ts'
import type { Crs } from './crs.ts'

export type Ring = Position[]

/** What was mended on the way; the first is said on the row, the other two once for the file. */
export interface Mended {
  closed: number
  turned: number
  heights: number
}

/** Smaller than a hand: no zone, but a slip of the pen. Assumption. */
const MIN_AREA_M2 = 0.01
/** Narrower than this is the rounding of coordinates to seven decimals. Assumption. */
const MIN_WIDTH_M = 0.02
/** Nearer to a line than this, a corner lies on it. */
const ON_LINE_M = 1e-6

/** Positions of a line or ring in WGS84, without heights and without repeats, or the refusal. */
export function readPositions(raw: unknown, crs: Crs, mended: Mended): Position[] | Refusal {
  if (!Array.isArray(raw) || raw.length === 0)
    return say('geometry-empty', 'geometry', 'The geometry has no coordinates.')
  const positions: Position[] = []
  for (const item of raw as unknown[]) {
    if (!Array.isArray(item)) return say('geometry-empty', 'geometry', 'A coordinate is missing.')
    const [x, y] = item as unknown[]
    if (typeof x !== 'number' || typeof y !== 'number')
      return say('geometry-empty', 'geometry', 'A coordinate is not a number.')
    if (item.length > 2) mended.heights++
    const at = crs.toDegrees(x, y)
    if (!at)
      return say(
        'geometry-outside-world',
        'geometry',
        `The coordinates ${x}, ${y} lie outside ${crs.name}.`,
        {
          value: [x, y],
        },
      )
    const last = positions.at(-1)
    if (!last || last[0] !== at[0] || last[1] !== at[1]) positions.push([at[0], at[1]])
  }
  return positions
}

/** A closed ring; one that is not closed is closed. May have too few corners to enclose anything: see `checkPolygons`. */
export function readRing(raw: unknown, crs: Crs, mended: Mended): Ring | Refusal {
  const ring = readPositions(raw, crs, mended)
  if (!Array.isArray(ring)) return ring
  const [first, last] = [ring[0]!, ring.at(-1)!]
  if (first[0] !== last[0] || first[1] !== last[1] || ring.length === 1) {
    ring.push(first)
    if (ring.length > 2) mended.closed++
  }
  return ring
}

/**
 * Checks polygons (each an outer ring and its holes) for area and crossings and turns rings to run as RFC 7946 asks:
 * outer rings anticlockwise, holes clockwise. Planar, in metres around the first corner. A ring that touches itself
 * at a single point is let through.
 */
export function checkPolygons(polygons: Ring[][], mended: Mended): Refusal | null {
  const [lon, lat] = polygons[0]![0]![0]!
  const plane = planeAt(lon, lat)
  for (const rings of polygons) for (const ring of rings) if (isFlat(inMetres(ring, plane))) return noArea()
  if (edgesCross(polygons, plane))
    return say(
      'geometry-crosses-itself',
      'geometry',
      'The outline crosses itself. Draw it without the crossing.',
    )
  for (const rings of polygons)
    for (const [i, ring] of rings.entries()) {
      const area = signedArea(inMetres(ring, plane))
      if (Math.abs(area) < MIN_AREA_M2) return noArea()
      if (area > 0 !== (i === 0)) {
        ring.reverse()
        mended.turned++
      }
    }
  return null
}

const noArea = () =>
  say('geometry-no-area', 'geometry', 'The outline encloses no area.', {
    limit: `at least ${MIN_AREA_M2} m²`,
  })

const inMetres = (ring: Ring, plane: Plane) => ring.map(([lon, lat]) => plane.toMetres(lon, lat))

/** Every corner on one line, or fewer than three corners. */
function isFlat(points: [number, number][]): boolean {
  if (points.length < 4) return true
  const [x0, y0] = points[0]!
  let far: [number, number] = [0, 0]
  for (const [x, y] of points) if (Math.hypot(x - x0, y - y0) > Math.hypot(...far)) far = [x - x0, y - y0]
  const length = Math.hypot(...far)
  if (length === 0) return true
  return points.every(([x, y]) => Math.abs((x - x0) * far[1] - (y - y0) * far[0]) / length < MIN_WIDTH_M)
}

/** Area of a closed ring, m², positive when it runs anticlockwise. */
export function signedArea(points: [number, number][]): number {
  let twice = 0
  for (let i = 1; i < points.length; i++) {
    const [x1, y1] = points[i - 1]!
    const [x2, y2] = points[i]!
    twice += x1 * y2 - x2 * y1
  }
  return twice / 2
}

interface Edge {
  a: [number, number]
  b: [number, number]
  minX: number
  maxX: number
  ring: number
  place: number
  of: number
}

function edgesCross(polygons: Ring[][], plane: Plane): boolean {
  const edges: Edge[] = []
  let number = 0
  for (const ring of polygons.flat()) {
    const points = inMetres(ring, plane)
    for (let i = 1; i < points.length; i++) {
      const [a, b] = [points[i - 1]!, points[i]!]
      const [minX, maxX] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])]
      edges.push({ a, b, minX, maxX, ring: number, place: i - 1, of: points.length - 1 })
    }
    number++
  }
  return anyCrossing(edges)
}

/** A sweep from west to east: only edges whose extents meet are compared. */
function anyCrossing(edges: Edge[]): boolean {
  edges.sort((p, q) => p.minX - q.minX)
  for (let i = 0; i < edges.length; i++) {
    const p = edges[i]!
    for (let j = i + 1; j < edges.length && edges[j]!.minX <= p.maxX; j++)
      if (cross(p, edges[j]!)) return true
  }
  return false
}

function cross(p: Edge, q: Edge): boolean {
  if (p.ring === q.ring) {
    const gap = Math.abs(p.place - q.place)
    if (gap === 1 || gap === p.of - 1) return false
  }
  const [p1, p2] = [offLine(q, p.a), offLine(q, p.b)]
  const [q1, q2] = [offLine(p, q.a), offLine(p, q.b)]
  if (p1 * p2 < 0 && q1 * q2 < 0) return true
  return p.ring === q.ring && p1 === 0 && p2 === 0 && overlapAlong(p, q) > ON_LINE_M
}

/** Distance of a point from the line of an edge, metres, with a sign; exactly 0 when it lies on it. */
function offLine({ a, b }: Edge, [x, y]: [number, number]): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
  const off = (dx * (y - a[1]) - dy * (x - a[0])) / Math.hypot(dx, dy)
  return Math.abs(off) < ON_LINE_M ? 0 : off
}

/** Length that two edges on one line have in common. */
function overlapAlong(p: Edge, q: Edge): number {
  const axis = Math.abs(p.b[0] - p.a[0]) > Math.abs(p.b[1] - p.a[1]) ? 0 : 1
  const [pLow, pHigh] = [Math.min(p.a[axis], p.b[axis]), Math.max(p.a[axis], p.b[axis])]
  const [qLow, qHigh] = [Math.min(q.a[axis], q.b[axis]), Math.max(q.a[axis], q.b[axis])]
  return Math.min(pHigh, qHigh) - Math.max(pLow, qLow)
}

/** True when rings in metres neither cross nor retrace themselves. */
export function isSimple(points: [number, number][]): boolean {
  const edges = points.slice(1).map((b, i): Edge => {
    const a = points[i]!
    return {
      a,
      b,
      minX: Math.min(a[0], b[0]),
      maxX: Math.max(a[0], b[0]),
      ring: 0,
      place: i,
      of: points.length - 1,
    }
  })
  return !anyCrossing(edges)
}
