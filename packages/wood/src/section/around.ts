import type { PlanePoint } from './types.ts'

export const radians = (deg: number) => (deg * Math.PI) / 180
/** The same bearing from 0 to below 360. */
export const wrap = (deg: number) => ((deg % 360) + 360) % 360
/** Clockwise from one bearing to the other, 0 to below 360. */
export const clockwise = (from: number, to: number) => wrap(to - from)
/** Point at a bearing and distance from the middle. */
export const at = (bearingDeg: number, radiusCm: number): PlanePoint => [
  radiusCm * Math.sin(radians(bearingDeg)),
  radiusCm * Math.cos(radians(bearingDeg)),
]
export const bearingOf = ([east, north]: PlanePoint) => wrap((Math.atan2(east, north) * 180) / Math.PI)
export const distance = ([east, north]: PlanePoint) => Math.hypot(east, north)

/** Values at bearings, joined by straight lines round the stem; one value holds all round; none is `otherwise`. */
export function joined(
  values: readonly { bearingDeg: number; value: number }[],
  otherwise: number,
): (bearingDeg: number) => number {
  const sorted = [...values].sort((a, b) => a.bearingDeg - b.bearingDeg)
  if (sorted.length === 0) return () => otherwise
  if (sorted.length === 1) return () => sorted[0]!.value
  return (bearingDeg) => {
    const bearing = wrap(bearingDeg)
    const next = sorted.findIndex((one) => one.bearingDeg > bearing)
    const after = sorted[Math.max(0, next)]!
    const before = sorted[(Math.max(0, next) + sorted.length - 1) % sorted.length]!
    const span = clockwise(before.bearingDeg, after.bearingDeg)
    return span === 0
      ? before.value
      : before.value + ((after.value - before.value) * clockwise(before.bearingDeg, bearing)) / span
  }
}

/**
 * A smooth closed curve through values at distinct bearings (cubic, slopes limited after Fritsch and Carlson 1980, SIAM J. Numer. Anal.
 * 17:238): it never swings above or below its two neighbours.
 */
export function smoothed(
  values: readonly { bearingDeg: number; value: number }[],
): (bearingDeg: number) => number {
  const sorted = [...values].sort((a, b) => a.bearingDeg - b.bearingDeg)
  const count = sorted.length
  if (count < 3) return joined(sorted, 0)
  const span = sorted.map((one, i) => clockwise(one.bearingDeg, sorted[(i + 1) % count]!.bearingDeg) || 360)
  const rise = sorted.map((one, i) => (sorted[(i + 1) % count]!.value - one.value) / span[i]!)
  const slope = sorted.map((_, i) => {
    const a = rise[(i + count - 1) % count]!
    const b = rise[i]!
    if (a * b <= 0) return 0
    const h0 = span[(i + count - 1) % count]!
    const h1 = span[i]!
    return (3 * (h0 + h1)) / ((2 * h1 + h0) / a + (h1 + 2 * h0) / b)
  })
  return (bearingDeg) => {
    const bearing = wrap(bearingDeg)
    let i = sorted.findLastIndex((one) => one.bearingDeg <= bearing)
    if (i < 0) i = count - 1
    const h = span[i]!
    const t = clockwise(sorted[i]!.bearingDeg, bearing) / h
    const j = (i + 1) % count
    return (
      sorted[i]!.value * (1 + 2 * t) * (1 - t) ** 2 +
      slope[i]! * h * t * (1 - t) ** 2 +
      sorted[j]!.value * t * t * (3 - 2 * t) +
      slope[j]! * h * t * t * (t - 1)
    )
  }
}
