import { type Position, planeAt } from '@underbough/model'

/** West, south, east, north in degrees. */
export type Box = readonly [number, number, number, number]

/** The box around some places; null when there is none. */
export function boxOf(places: readonly Position[]): Box | null {
  if (places.length === 0) return null
  const lons = places.map(([lon]) => lon)
  const lats = places.map(([, lat]) => lat)
  return [Math.min(...lons), Math.min(...lats), Math.max(...lons), Math.max(...lats)]
}

const middle = ([w, s, e, n]: Box): Position => [(w + e) / 2, (s + n) / 2]
const EARTH_RADIUS_KM = 6371
const rad = Math.PI / 180

/** Great-circle distance between the middles of two boxes, km; spherical, good to half a per cent. */
export function apartKm(a: Box, b: Box): number {
  const [lonA, latA] = middle(a)
  const [lonB, latB] = middle(b)
  const h =
    Math.sin(((latB - latA) * rad) / 2) ** 2 +
    Math.cos(latA * rad) * Math.cos(latB * rad) * Math.sin(((lonB - lonA) * rad) / 2) ** 2
  return 2 * EARTH_RADIUS_KM * Math.asin(Math.min(1, Math.sqrt(h)))
}

export const overlaps = (a: Box, b: Box): boolean =>
  a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3]

/**
 * What to draw of the file: its rows on the ground where most of them fall there, else all of them. One stray row would
 * otherwise shrink the rest to a dot; how many are left out is said beside the drawing.
 */
export function inFrame<T extends { box: Box }>(rows: readonly T[], ground: Box | null): T[] {
  const on = ground ? rows.filter((row) => overlaps(row.box, ground)) : []
  return on.length > rows.length / 2 ? on : [...rows]
}

/** True when the same places with the two figures exchanged would fall on the ground, and as they stand do not. */
export function looksSwapped(places: Box, ground: Box): boolean {
  const [w, s, e, n] = places
  return !overlaps(places, ground) && overlaps([s, w, n, e], ground)
}

export interface Frame {
  widthPx: number
  heightPx: number
  metresPerPx: number
  place(position: Position): [x: number, y: number]
}

/** A true-to-scale frame around a box; what lies on one point is given 200 m to stand in. */
export function frameOf(box: Box, widthPx: number, heightPx: number, marginPx = 14): Frame {
  const [lon, lat] = middle(box)
  const plane = planeAt(lon, lat)
  const [east] = plane.toMetres(box[2], lat)
  const [, north] = plane.toMetres(lon, box[3])
  const metresPerPx = Math.max(
    200 / (widthPx - 2 * marginPx),
    (2 * east) / (widthPx - 2 * marginPx),
    (2 * north) / (heightPx - 2 * marginPx),
  )
  return {
    widthPx,
    heightPx,
    metresPerPx,
    place: (position) => {
      const [x, y] = plane.toMetres(position[0], position[1])
      return [widthPx / 2 + x / metresPerPx, heightPx / 2 - y / metresPerPx]
    },
  }
}

/** Pages to ask for so that the points shown come from the whole file: at most `most`, evenly spread, the first among them. */
export function pagesAcross(total: number, pageRows: number, most: number): number[] {
  const pages = Math.max(1, Math.ceil(total / pageRows))
  const count = Math.min(pages, most)
  return Array.from({ length: count }, (_, i) => 1 + Math.floor((i * pages) / count))
}
