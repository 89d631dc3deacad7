/**
 * The grid of cells: squares of Web Mercator at zoom 18, counted from the north-west corner of the world. A side is about
 * 153 m × cos(latitude): 110 m at 44°, 130 m at 32°. A tree belongs to the cell its foot stands in.
 */
export interface Cell {
  x: number
  y: number
}

export const CELLS_ROUND = 2 ** 18

/** Longitude of a cell line, degrees; `x` may be a fraction. */
export const cellLon = (x: number) => (x / CELLS_ROUND) * 360 - 180
/** Latitude of a cell line, degrees; `y` may be a fraction. */
export const cellLat = (y: number) =>
  (Math.atan(Math.sinh(Math.PI * (1 - (2 * y) / CELLS_ROUND))) * 180) / Math.PI

/** The cell that a place lies in; places beyond the grid's ends, near the poles, lie in its last row. */
export function cellAt(lon: number, lat: number): Cell {
  const within = (n: number) => Math.min(CELLS_ROUND - 1, Math.max(0, Math.floor(n)))
  const tan = Math.tan((Math.min(85.05, Math.max(-85.05, lat)) * Math.PI) / 180)
  return {
    x: within(((lon + 180) / 360) * CELLS_ROUND),
    y: within(((1 - Math.asinh(tan) / Math.PI) / 2) * CELLS_ROUND),
  }
}

/** West, south, east, north of a cell, degrees. */
export const cellBounds = ({ x, y }: Cell): [number, number, number, number] => [
  cellLon(x),
  cellLat(y + 1),
  cellLon(x + 1),
  cellLat(y),
]

/** A cell as a closed ring, counter-clockwise as RFC 7946 asks. */
export function cellRing(cell: Cell): [number, number][] {
  const [w, s, e, n] = cellBounds(cell)
  return [
    [w, s],
    [e, s],
    [e, n],
    [w, n],
    [w, s],
  ]
}

export const cellKey = ({ x, y }: Cell) => `${x}/${y}`
