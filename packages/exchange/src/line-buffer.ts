import { type AreaGeometry, type Position, planeAt } from '@underbough/model'
import { union } from 'polyclip-ts'
import { isSimple, signedArea } from './rings.ts'

type Point = [number, number]

/** Turns sharper than this are rounded rather than mitred, or the point would reach far out. Assumption. */
const MITRE_TURN_RAD = (95 * Math.PI) / 180
/** Corners of the polygon that rounds a bend. */
const BEND_CORNERS = 16

/**
 * Lines with a width as an area: flat ends, bends mitred where they are gentle and rounded where they are sharp.
 * Planar, in metres around the first point. Never crosses itself: a line that bends back on itself, crosses itself or
 * closes is made from its straight pieces by union, with holes where it encloses ground.
 * @param widthM whole width, metres, above 0
 */
export function bufferedLines(lines: Position[][], widthM: number): AreaGeometry {
  const [lon, lat] = lines[0]![0]!
  const plane = planeAt(lon, lat)
  const inMetres = lines.map((line) => line.map(([x, y]) => plane.toMetres(x, y) as Point))
  const half = widthM / 2
  const outline = inMetres.length === 1 ? plainOutline(inMetres[0]!, half) : null
  const polygons = outline ? [[outline]] : joined(inMetres, half)
  const coordinates = polygons.map((rings) =>
    rings.map((ring) => ring.map(([x, y]) => rounded(plane.toDegrees(x, y)))),
  )
  return coordinates.length === 1
    ? { type: 'Polygon', coordinates: coordinates[0]! }
    : { type: 'MultiPolygon', coordinates }
}

/** To 1e-9°, a tenth of a millimetre. */
const rounded = ([lon, lat]: Point): Point => [Math.round(lon * 1e9) / 1e9, Math.round(lat * 1e9) / 1e9]

/** The two parallels of a line that bends gently, as one ring; `null` where that ring would not be sound. */
function plainOutline(line: Point[], half: number): Point[] | null {
  const steps = line.slice(1).map((b, i) => step(line[i]!, b))
  const left: Point[] = []
  const right: Point[] = []
  for (const [i, [x, y]] of line.entries()) {
    const before = steps[i - 1] ?? steps[i]!
    const after = steps[i] ?? before
    const cosTurn = before.ux * after.ux + before.uy * after.uy
    const turn = Math.acos(Math.max(-1, Math.min(1, cosTurn)))
    if (turn > MITRE_TURN_RAD) return null
    const eaten = half * Math.tan(turn / 2)
    if (eaten > before.length / 2 || eaten > after.length / 2) return null
    const scale = half / (1 + cosTurn)
    const [nx, ny] = [-(before.uy + after.uy) * scale, (before.ux + after.ux) * scale]
    left.push([x + nx, y + ny])
    right.push([x - nx, y - ny])
  }
  const ring = [...right, ...left.reverse(), right[0]!]
  return isSimple(ring) && signedArea(ring) > 0 ? ring : null
}

function step(a: Point, b: Point): { ux: number; uy: number; length: number } {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1])
  return { ux: (b[0] - a[0]) / length, uy: (b[1] - a[1]) / length, length }
}

function joined(lines: Point[][], half: number): Point[][][] {
  const pieces: Point[][][] = []
  for (const line of lines) {
    for (let i = 1; i < line.length; i++) pieces.push([straight(line[i - 1]!, line[i]!, half)])
    const closed = line.length > 2 && line[0]![0] === line.at(-1)![0] && line[0]![1] === line.at(-1)![1]
    for (const bend of closed ? line.slice(1) : line.slice(1, -1)) pieces.push([around(bend, half)])
  }
  const polygons = union(pieces[0]!, ...pieces.slice(1)) as Point[][][]
  return polygons.map((rings) => rings.map(withoutHairs).filter((ring) => ring.length > 3))
}

function straight(a: Point, b: Point, half: number): Point[] {
  const { ux, uy } = step(a, b)
  const [nx, ny] = [-uy * half, ux * half]
  const corners: Point[] = [
    [a[0] - nx, a[1] - ny],
    [b[0] - nx, b[1] - ny],
    [b[0] + nx, b[1] + ny],
    [a[0] + nx, a[1] + ny],
  ]
  return [...corners, corners[0]!].map(toMillimetre)
}

/**
 * A regular polygon around the circle, not inside it: the corners of the straight pieces then lie within, and their
 * union has no hairline steps that rounding could fold over.
 */
function around([x, y]: Point, half: number): Point[] {
  const radius = half / Math.cos(Math.PI / BEND_CORNERS)
  const corners = Array.from({ length: BEND_CORNERS }, (_, i): Point => {
    const angle = (2 * Math.PI * (i + 0.5)) / BEND_CORNERS
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)]
  })
  return [...corners, corners[0]!].map(toMillimetre)
}

/** Leaves out corners nearer than this to the one before; they come from rounding. */
const SAME_CORNER_M = 0.005

function withoutHairs(ring: Point[]): Point[] {
  const kept: Point[] = []
  for (const point of ring.slice(0, -1)) {
    const last = kept.at(-1)
    if (!last || Math.hypot(point[0] - last[0], point[1] - last[1]) > SAME_CORNER_M) kept.push(point)
  }
  return [...kept, kept[0]!]
}

const toMillimetre = ([x, y]: Point): Point => [Math.round(x * 1000) / 1000, Math.round(y * 1000) / 1000]
