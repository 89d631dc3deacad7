const side = 1 << 15

/** The rows in the order of a Hilbert curve over their bounding box; ties keep the order of the rows. */
export function hilbertOrder<T>(rows: readonly T[], place: (row: T) => readonly [number, number]): T[] {
  const at = rows.map(place)
  let west = Number.POSITIVE_INFINITY
  let south = Number.POSITIVE_INFINITY
  let east = Number.NEGATIVE_INFINITY
  let north = Number.NEGATIVE_INFINITY
  for (const [x, y] of at) {
    west = Math.min(west, x)
    east = Math.max(east, x)
    south = Math.min(south, y)
    north = Math.max(north, y)
  }
  const cell = (value: number, least: number, span: number) =>
    span > 0 ? Math.min(side - 1, Math.floor(((value - least) / span) * side)) : 0
  const keys = at.map(([x, y]) => alongCurve(cell(x, west, east - west), cell(y, south, north - south)))
  return rows
    .map((_, i) => i)
    .sort((a, b) => keys[a] - keys[b] || a - b)
    .map((i) => rows[i])
}

function alongCurve(column: number, row: number): number {
  let x = column
  let y = row
  let along = 0
  for (let half = side / 2; half >= 1; half /= 2) {
    const right = (x & half) > 0 ? 1 : 0
    const up = (y & half) > 0 ? 1 : 0
    along += half * half * ((3 * right) ^ up)
    if (up === 0) {
      if (right === 1) {
        x = side - 1 - x
        y = side - 1 - y
      }
      const swap = x
      x = y
      y = swap
    }
  }
  return along
}
