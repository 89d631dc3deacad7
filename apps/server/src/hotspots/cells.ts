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
