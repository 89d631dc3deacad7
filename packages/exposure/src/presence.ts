import type { HourClass } from './occupancy.ts'

const TERMS = 12
// Up to here twelve terms of the series leave less than 2e-12.
const SERIES_UP_TO = 0.7
// Cubic pieces of this length between value and slope leave at most h⁴ / 384 = 2.5e-9; beyond the last, exponentials.
const STEP = 1 / 32
const TABLE_UP_TO = 16
/** A zone that so many bearings have asked for gets a table. */
const ASKED_OFTEN = 500

/**
 * Chance of at least one person, averaged over the hours, as a function of the share of the zone's ground within the
 * outline: 1 − Σ w e^(−n share). Few people within are the rule, and there a series needs no exponential an hour; where
 * there are many a table is made, once for all trees that share the zone's hours.
 */
export class ChanceOfAny {
  private readonly most: number
  private readonly terms = new Float64Array(TERMS)
  /** Weight and rate of each class: people over the most there are at any hour. */
  private readonly weight: Float64Array
  private readonly rate: Float64Array
  private table: Float64Array | null = null
  private asked = 0

  constructor(hours: readonly HourClass[], groupSize: number) {
    const busy = hours.filter((h) => h.people > 0)
    this.most = busy.reduce((max, h) => Math.max(max, h.people), 0) / groupSize
    this.weight = Float64Array.from(busy, (h) => h.weight)
    this.rate = Float64Array.from(busy, (h) => h.people / groupSize / this.most)
    let factor = 1
    for (let k = 0; k < TERMS; k++) {
      factor /= k === 0 ? 1 : -(k + 1)
      for (let h = 0; h < busy.length; h++)
        this.terms[k]! += factor * this.weight[h]! * this.rate[h]! ** (k + 1)
    }
  }

  /** Chances at `size` shares from `place` on, written at the same places of `out`. */
  fill(shares: Float64Array, out: Float64Array, place: number, size: number): void {
    const { terms, most } = this
    for (let k = place; k < place + size; k++) {
      const within = shares[k]! * most
      if (within <= SERIES_UP_TO) {
        let sum = terms[TERMS - 1]!
        for (let n = TERMS - 2; n >= 0; n--) sum = sum * within + terms[n]!
        out[k] = sum * within
      } else if (within >= TABLE_UP_TO || !this.table) {
        if (!this.table && ++this.asked >= ASKED_OFTEN) this.table = this.tabled()
        out[k] = this.direct(within)
      } else {
        const at = within / STEP
        const cell = Math.floor(at)
        const t = at - cell
        const u = 1 - t
        const i = 2 * cell
        const table = this.table
        out[k] =
          u * u * ((1 + 2 * t) * table[i]! + t * table[i + 1]!) +
          t * t * ((1 + 2 * u) * table[i + 2]! - u * table[i + 3]!)
      }
    }
  }

  private direct(within: number): number {
    const { weight, rate } = this
    let any = 0
    for (let h = 0; h < weight.length; h++) any += weight[h]! * (1 - Math.exp(-rate[h]! * within))
    return any
  }

  /** Values and slopes times the step. */
  private tabled(): Float64Array {
    const { weight, rate } = this
    const cells = TABLE_UP_TO / STEP + 1
    const table = new Float64Array(2 * (cells + 1))
    for (let cell = 0; cell <= cells; cell++)
      for (let h = 0; h < weight.length; h++) {
        const absent = Math.exp(-rate[h]! * cell * STEP)
        table[2 * cell]! += weight[h]! * (1 - absent)
        table[2 * cell + 1]! += weight[h]! * rate[h]! * absent * STEP
      }
    return table
  }
}

const kept = new WeakMap<readonly HourClass[], Map<number, ChanceOfAny>>()

/** The trees of a city share their zones' hours. */
export function chanceOfAny(hours: readonly HourClass[], groupSize: number): ChanceOfAny {
  let bySize = kept.get(hours)
  if (!bySize) {
    bySize = new Map()
    kept.set(hours, bySize)
  }
  let known = bySize.get(groupSize)
  if (!known) {
    known = new ChanceOfAny(hours, groupSize)
    bySize.set(groupSize, known)
  }
  return known
}
