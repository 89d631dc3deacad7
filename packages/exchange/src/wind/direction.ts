const points = [
  'n',
  'nne',
  'ne',
  'ene',
  'e',
  'ese',
  'se',
  'sse',
  's',
  'ssw',
  'sw',
  'wsw',
  'w',
  'wnw',
  'nw',
  'nnw',
]
/** Width of one of the sixteen directions, degrees; the first is centred on north. */
export const SECTOR_DEG = 22.5

/**
 * Where wind comes from, degrees clockwise from north, from 0 to below 360; null for variable, calm, missing and anything
 * beyond the circle (990 and 999 stand for variable and missing in many files).
 */
export function readDirection(cell: string, zeroIsNorth: boolean): number | null {
  const text = cell.trim().toLowerCase()
  const point = points.indexOf(text.replace(/[^a-z]/g, '').replace(/o/g, 'e'))
  if (point >= 0 && /^[a-z-]+$/.test(text)) return point * SECTOR_DEG
  const degrees = /^\d{1,3}([.,]\d+)?$/.test(text) ? Number(text.replace(',', '.')) : Number.NaN
  if (!(degrees >= 0 && degrees <= 360)) return null
  if (degrees === 0) return zeroIsNorth ? 0 : null
  return degrees % 360
}

/**
 * How the directions of a file are rounded, degrees: 10 where all are whole tens, else 0. Whole tens fall unevenly into
 * sixteen directions, three into one and two into the next, and made a rose of spokes if each counted where it stands.
 */
export const roundedTo = (directions: Iterable<number>): 0 | 10 => {
  let any = false
  for (const direction of directions) {
    if (direction % 10 !== 0) return 0
    any = true
  }
  return any ? 10 : 0
}

/** Adds one report to the sixteen directions, spread evenly over what its rounding hides. */
export function addReport(sectors: number[], fromDeg: number, rounding: number, weight = 1) {
  if (rounding === 0) {
    sectors[Math.floor(fromDeg / SECTOR_DEG + 0.5) % 16]! += weight
    return
  }
  const start = fromDeg - rounding / 2
  const end = fromDeg + rounding / 2
  for (let at = start; at < end - 1e-9; ) {
    const sector = Math.floor(at / SECTOR_DEG + 0.5 + 1e-12)
    const until = Math.min(end, (sector + 0.5) * SECTOR_DEG)
    sectors[((sector % 16) + 16) % 16]! += (weight * (until - at)) / rounding
    at = until
  }
}
