/** Beyond this a bending figure for a tree says nothing. */
const beyondMps = 60
const MPS_PER_MPH = 1609.344 / 3600
const step = 5

/** A gust in the three units people use, each rounded outwards to 5. */
export interface GustEnd {
  mps: number
  kmh: number
  mph: number
}

/** Least and most gust; null for an end above 60 m/s. */
export interface GustEnds {
  least: GustEnd | null
  most: GustEnd | null
}

// Rounding errors of the last bit must not lift 25 × 3.6 over 90.
const down = (value: number) => Math.floor(value / step + 1e-9) * step
const up = (value: number) => Math.ceil(value / step - 1e-9) * step

function end(mps: number, round: (value: number) => number): GustEnd | null {
  const whole = round(mps)
  if (mps > beyondMps || whole > beyondMps) return null
  return { mps: whole, kmh: round(whole * 3.6), mph: round(whole / MPS_PER_MPH) }
}

/** A range of gusts rounded outwards to 5 m/s. */
export function gustEnds(leastMps: number, mostMps: number): GustEnds {
  return { least: end(leastMps, down), most: end(mostMps, up) }
}

const beyond = `above ${beyondMps} m/s, beyond what this can say`

/** The range in words. */
export function gustWords({ least, most }: GustEnds): string {
  if (!least) return beyond
  if (!most) return `from about ${least.mps} m/s (${least.kmh} km/h, ${least.mph} mph) to ${beyond}`
  return `from about ${least.mps} to ${most.mps} m/s (${least.kmh} to ${most.kmh} km/h, ${least.mph} to ${most.mph} mph)`
}

/** One end in words. */
export const endWords = (one: GustEnd | null) =>
  one ? `${one.mps} m/s (${one.kmh} km/h, ${one.mph} mph)` : beyond
