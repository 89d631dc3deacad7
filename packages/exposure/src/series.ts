import type { HourClass } from './occupancy.ts'

const TERMS = 12
// Up to here twelve terms of the series leave less than 2e-12.
const SERIES_UP_TO = 0.7

/**
 * Chance of at least one person, averaged over the hours, as a function of the share of the zone's ground within the
 * outline: 1 − Σ w e^(−n share). Few people within are the rule, and there the series needs no exponential an hour.
 */
export function chanceOfAny(hours: readonly HourClass[], groupSize: number): (share: number) => number {
  if (groupSize !== 1) return madeFor(hours, groupSize)
  const known = kept.get(hours) ?? madeFor(hours, 1)
  kept.set(hours, known)
  return known
}

/** The trees of a city share their zones' hours. */
const kept = new WeakMap<readonly HourClass[], (share: number) => number>()

function madeFor(hours: readonly HourClass[], groupSize: number): (share: number) => number {
  const most = hours.reduce((max, h) => Math.max(max, h.people), 0) / groupSize
  const terms = new Float64Array(TERMS)
  let factor = 1
  for (let k = 0; k < TERMS; k++) {
    factor /= k === 0 ? 1 : -(k + 1)
    for (const h of hours) terms[k]! += factor * h.weight * (h.people / groupSize / (most || 1)) ** (k + 1)
  }
  return (share) => {
    const within = share * most
    if (within > SERIES_UP_TO) {
      let any = 0
      for (const h of hours) any += h.weight * (1 - Math.exp((-h.people / groupSize) * share))
      return any
    }
    let sum = 0
    for (let k = TERMS - 1; k >= 0; k--) sum = sum * within + terms[k]!
    return sum * within
  }
}
