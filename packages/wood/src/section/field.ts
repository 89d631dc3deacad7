import type { Draws } from '../random.ts'
import { radians } from './around.ts'

/** A wall thickness known at one bearing, cm; `censored`: it is at least this. */
export interface WallDatum {
  bearingDeg: number
  wallCm: number
  censored: boolean
}

/** Length scale of the wall's covariance round the stem, radians of 2 sin(Δ/2) (assumption, tried on invented sections). */
const SCALE = 0.9
/** Error of a reading: 1 cm and 3 % of the radius (assumption). */
const readingSd = (radiusCm: number) => 1 + 0.03 * radiusCm
/** Rounds of the sampler before its first draw is used, and between two draws. */
const WARM_UP = 40
const BETWEEN = 2

/**
 * Walls that agree with the readings: wall thickness round the stem as a periodic Gaussian field (ordinary kriging, covariance
 * s² exp(−2 sin²(Δ/2)/0.9²), s the larger of the readings' standard deviation and a quarter of the radius, mean unknown with a standard
 * deviation of a quarter of the radius). A censored reading is drawn too, never below what was read (Gibbs sampling). Clipped to 0 and
 * the radius at each bearing.
 *
 * @param woodCm radius without bark at each bearing of `bearingsDeg`
 * @returns one wall, cm at each bearing, for each draw
 */
export function drawWalls(
  data: readonly WallDatum[],
  bearingsDeg: readonly number[],
  woodCm: readonly number[],
  meanRadiusCm: number,
  draws: number,
  random: Draws,
): Float64Array[] {
  const quarter = 0.25 * meanRadiusCm
  const seen = data.filter((one) => !one.censored).map((one) => one.wallCm)
  const all = data.map((one) => one.wallCm)
  const mean = all.reduce((sum, wall) => sum + wall, 0) / all.length
  const sd = Math.max(standardDeviation(seen), quarter)
  const noise = readingSd(meanRadiusCm) ** 2
  const covariance = (a: number, b: number) =>
    sd * sd * Math.exp((-2 * Math.sin(radians(a - b) / 2) ** 2) / (SCALE * SCALE)) + quarter * quarter

  const n = data.length
  const count = bearingsDeg.length
  const k = data.map((p, i) =>
    Float64Array.from(data, (q, j) => covariance(p.bearingDeg, q.bearingDeg) + (i === j ? noise : 0)),
  )
  const inverse = inverted(k)
  const cross = data.map((p) => Float64Array.from(bearingsDeg, (b) => covariance(p.bearingDeg, b)))
  // Weight of each reading on each bearing.
  const weights = inverse.map((row) => {
    const out = new Float64Array(count)
    for (let j = 0; j < n; j++) for (let b = 0; b < count; b++) out[b]! += row[j]! * cross[j]![b]!
    return out
  })
  const spread = bearingsDeg.map((a, i) => {
    const row = new Float64Array(i + 1)
    for (let j = 0; j <= i; j++) {
      let value = covariance(a, bearingsDeg[j]!)
      for (let q = 0; q < n; q++) value -= cross[q]![i]! * weights[q]![j]!
      row[j] = value
    }
    return row
  })
  const lower = cholesky(spread)

  const z = Float64Array.from(all)
  const open = data.flatMap((one, i) => (one.censored ? [i] : []))
  const sweep = () => {
    for (const c of open) {
      const row = inverse[c]!
      let pull = 0
      for (let j = 0; j < n; j++) if (j !== c) pull += row[j]! * (z[j]! - mean)
      const centre = mean - pull / row[c]!
      const width = Math.sqrt(1 / row[c]!)
      z[c] = centre + width * random.normalAtLeast((all[c]! - centre) / width)
    }
  }
  if (open.length > 0) for (let i = 0; i < WARM_UP; i++) sweep()

  const normals = new Float64Array(count)
  return Array.from({ length: draws }, () => {
    if (open.length > 0) for (let i = 0; i < BETWEEN; i++) sweep()
    const wall = new Float64Array(count).fill(mean)
    for (let q = 0; q < n; q++) {
      const off = z[q]! - mean
      const weight = weights[q]!
      for (let b = 0; b < count; b++) wall[b]! += weight[b]! * off
    }
    for (let b = 0; b < count; b++) normals[b] = random.normal()
    for (let b = 0; b < count; b++) {
      const row = lower[b]!
      let value = wall[b]!
      for (let j = 0; j <= b; j++) value += row[j]! * normals[j]!
      wall[b] = Math.min(woodCm[b]!, Math.max(0, value))
    }
    return wall
  })
}

function standardDeviation(values: readonly number[]): number {
  if (values.length < 2) return 0
  const mean = values.reduce((a, b) => a + b, 0) / values.length
  return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1))
}

/** Lower triangle L with L·Lᵀ the given symmetric matrix; what rounding has made negative counts as no spread left. */
function cholesky(rows: readonly Float64Array[]): Float64Array[] {
  const lower: Float64Array[] = []
  rows.forEach((row, i) => {
    const out = new Float64Array(i + 1)
    for (let j = 0; j <= i; j++) {
      const other = j === i ? out : lower[j]!
      let value = row[j]! + (i === j ? 1e-7 : 0)
      for (let q = 0; q < j; q++) value -= out[q]! * other[q]!
      if (i === j) out[j] = value > 1e-9 ? Math.sqrt(value) : 0
      else out[j] = other[j]! > 0 ? value / other[j]! : 0
    }
    lower.push(out)
  })
  return lower
}

/** Inverse of a small symmetric positive matrix (Gauss–Jordan with the largest pivot). */
function inverted(matrix: readonly Float64Array[]): Float64Array[] {
  const n = matrix.length
  const rows = matrix.map((row, i) => {
    const wide = new Float64Array(2 * n)
    wide.set(row)
    wide[n + i] = 1
    return wide
  })
  for (let c = 0; c < n; c++) {
    let best = c
    for (let r = c + 1; r < n; r++) if (Math.abs(rows[r]![c]!) > Math.abs(rows[best]![c]!)) best = r
    ;[rows[c], rows[best]] = [rows[best]!, rows[c]!]
    const pivot = rows[c]!
    const scale = 1 / pivot[c]!
    for (let j = c; j < 2 * n; j++) pivot[j]! *= scale
    for (let r = 0; r < n; r++) {
      const row = rows[r]!
      const factor = row[c]!
      if (r === c || factor === 0) continue
      for (let j = c; j < 2 * n; j++) row[j]! -= factor * pivot[j]!
    }
  }
  return rows.map((row) => row.slice(n))
}
