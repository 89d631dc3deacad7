import { type Plane, planeAt } from '@underbough/model'

/**
 * Lettered and numbered squares of the ground, so that a place can be said over a radio. They lie on the ground, not on
 * the screen: whoever looks, from whatever view, says the same square for the same tree. Columns are lettered from the
 * west (A to Z, then AA), rows numbered from the north.
 */
export interface Squares {
  /** Side of one square, metres. */
  sideM: number
  columns: number
  rows: number
  /** The square of a place, `C2`; null outside the ground. */
  squareOf(lon: number, lat: number): string | null
  /** Longitude of the west edge of a column (0 is A; `columns` gives the east edge of the last). */
  westOf(column: number): number
  /** Latitude of the north edge of a row (0 is row 1; `rows` gives the south edge of the last). */
  northOf(row: number): number
}

/** West, south, east, north in degrees. */
export type Bounds = readonly [number, number, number, number]

const sides = [100, 200, 500, 1000, 2000, 5000, 10_000] as const

/** Squares of 100 m, or of the first larger round size at which one letter is enough across the ground. */
export function squaresOver(bounds: Bounds): Squares {
  const [west, south, east, north] = bounds
  const middle = (south + north) / 2
  const plane: Plane = planeAt((west + east) / 2, middle)
  const [w] = plane.toMetres(west, middle)
  const [e] = plane.toMetres(east, middle)
  const [, s] = plane.toMetres((west + east) / 2, south)
  const [, n] = plane.toMetres((west + east) / 2, north)
  const widthM = Math.max(1, e - w)
  const heightM = Math.max(1, n - s)
  const sideM = sides.find((side) => widthM / side <= 26 && heightM / side <= 99) ?? 20_000
  const columns = Math.max(1, Math.ceil(widthM / sideM - 1e-9))
  const rows = Math.max(1, Math.ceil(heightM / sideM - 1e-9))
  // Columns follow the meridian's grid at the middle latitude, so that an edge is one longitude and one latitude.
  const lonOf = (metres: number) => plane.toDegrees(metres, 0)[0]
  const latOf = (metres: number) => plane.toDegrees(0, metres)[1]
  return {
    sideM,
    columns,
    rows,
    squareOf(lon, lat) {
      const column = Math.floor((plane.toMetres(lon, middle)[0] - w) / sideM)
      const row = Math.floor((n - plane.toMetres((west + east) / 2, lat)[1]) / sideM)
      if (column < 0 || row < 0 || column >= columns || row >= rows) return null
      return `${letters(column)}${row + 1}`
    },
    westOf: (column) => lonOf(w + column * sideM),
    northOf: (row) => latOf(n - row * sideM),
  }
}

/** A, B … Z, AA, AB …: the letters of a column counted from 0. */
export function letters(column: number): string {
  let rest = column
  let out = ''
  do {
    out = String.fromCharCode(65 + (rest % 26)) + out
    rest = Math.floor(rest / 26) - 1
  } while (rest >= 0)
  return out
}

/** How many squares share one label so that labels stand at least `leastPx` apart. */
export function labelStep(sidePx: number, leastPx: number): number {
  return [1, 2, 5, 10, 20, 50, 100].find((step) => step * sidePx >= leastPx) ?? 200
}

/** A round length for the scale bar: its parts are 1, 2.5 or 5 times a power of ten metres, and two parts are at most `mostPx`. */
export function scaleStep(metresPerPx: number, mostPx: number): number {
  const most = (metresPerPx * mostPx) / 2
  const power = 10 ** Math.floor(Math.log10(most))
  const step = [5, 2.5, 1].find((k) => k * power <= most) ?? 1
  return step * power
}
