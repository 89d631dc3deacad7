import { type Deviates, deviates, quantiles, windSpread, z95 } from './spread.ts'

/** Share of the sound outline's section modulus that is left: 5 % and 95 % figures, and the middle where readings allow one. */
export interface SectionShare {
  p5: number
  p50: number | null
  p95: number
}

/** What holds and what pulls, SI units. */
export interface Capacity {
  strengthPa: number
  /** Of the sound outline. */
  soundModulusM3: number
  share: SectionShare
  /** N/A of the weight above. */
  weightStressPa: number
  /** Of the weight above, taken to act the way the wind does. */
  leanMomentNm: number
  /** Moments about the section in a gust of 1 m/s. */
  crownMomentNm: number
  stemMomentNm: number
}

/** A section share of nothing cannot be drawn from; this stands in for it. */
const leastShare = 1e-3

/** Share of the modulus left in a case: straight between its logarithms at 5, 50 and 95 %, never over the sound outline. */
function shareIn({ p5, p50, p95 }: SectionShare, deviate: number): number {
  const low = Math.log(Math.max(leastShare, p5))
  const high = Math.log(Math.max(leastShare, p95))
  const middle = p50 === null ? (low + high) / 2 : Math.log(Math.max(leastShare, p50))
  const slope = (deviate < 0 ? middle - low : high - middle) / z95
  return Math.min(1, Math.exp(middle + slope * deviate))
}

/** Gust at which N/A + M/Z reaches the strength in one case; 0 where weight and lean reach it without wind. */
function gustIn(of: Capacity, case_: Deviates): number {
  const spread = (deviate: number, sd: number) => Math.exp(deviate * sd)
  const strength = of.strengthPa * spread(case_.strength, windSpread.strength)
  const modulus = of.soundModulusM3 * shareIn(of.share, case_.section)
  const left = modulus * (strength - of.weightStressPa) - of.leanMomentNm
  const crown = of.crownMomentNm * spread(case_.drag, windSpread.drag) * spread(case_.area, windSpread.area)
  const common =
    spread(case_.arm, windSpread.arm) * spread(case_.pressure, windSpread.pressure) * case_.dynamic
  return Math.sqrt(Math.max(0, left) / ((crown + of.stemMomentNm) * common))
}

/** Gusts, m/s, at which the strength is reached: 5, 50 and 95 % over all cases. */
export function gustsReaching(of: Capacity): { p5: number; p50: number; p95: number } {
  return quantiles(deviates.map((case_) => gustIn(of, case_)))
}
