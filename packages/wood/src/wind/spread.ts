/** How far each input may be off (`A`): standard deviations of natural logarithms, and the even range of the dynamic factor. */
export const windSpread = {
  drag: 0.45,
  area: 0.2,
  arm: 0.1,
  pressure: 0.25,
  strength: 0.18,
  dynamicLeast: 0.8,
  dynamicMost: 1.5,
} as const

/** One imagined case: standard normal deviates, and the dynamic factor. */
export interface Deviates {
  drag: number
  area: number
  arm: number
  pressure: number
  strength: number
  section: number
  dynamic: number
}

const cases = 4096

/** Van der Corput's sequence: the digits of i in a base, mirrored behind the point. */
function mirrored(i: number, base: number): number {
  let value = 0
  for (let rest = i, unit = 1 / base; rest > 0; rest = Math.floor(rest / base), unit /= base)
    value += (rest % base) * unit
  return value
}

/** Two standard normal deviates from two even ones (Box and Muller 1958). */
function normals(u: number, v: number): [number, number] {
  const radius = Math.sqrt(-2 * Math.log(u))
  return [radius * Math.cos(2 * Math.PI * v), radius * Math.sin(2 * Math.PI * v)]
}

/** The same cases every time, spread evenly over all inputs (Halton's points): no seed, and two trees are compared case by case. */
export const deviates: readonly Deviates[] = Array.from({ length: cases }, (_, i) => {
  const even = (base: number) => mirrored(i + 1, base)
  const [drag, area] = normals(even(2), even(3))
  const [arm, pressure] = normals(even(5), even(7))
  const [strength, section] = normals(even(11), even(13))
  const { dynamicLeast, dynamicMost } = windSpread
  return {
    drag,
    area,
    arm,
    pressure,
    strength,
    section,
    dynamic: dynamicLeast + even(17) * (dynamicMost - dynamicLeast),
  }
})

/** Standard deviations from the middle at which 5 % lie outside. */
export const z95 = 1.6448536269514722

/** Least, middle and most of cases: 5, 50 and 95 %. */
export function quantiles(values: readonly number[]): { p5: number; p50: number; p95: number } {
  const sorted = [...values].sort((a, b) => a - b)
  const at = (share: number) => sorted[Math.round(share * (sorted.length - 1))]!
  return { p5: at(0.05), p50: at(0.5), p95: at(0.95) }
}
