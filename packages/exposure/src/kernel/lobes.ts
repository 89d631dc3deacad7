import { FULL_TURN } from '../bearing.ts'
import { type Lobe, lobeAt } from '../density.ts'
import { LOBES } from './target.ts'

/** Lobes laid out for the inner loop. */
export class LobeTable {
  count = 0
  weights = new Float64Array(LOBES)
  /** The tightest concentration among them. */
  tightest = 0
  private kind = new Uint8Array(LOBES)
  private scale = new Float64Array(LOBES)
  private concentration = new Float64Array(LOBES)
  private east = new Float64Array(LOBES)
  private north = new Float64Array(LOBES)
  private tables: (Float64Array | null)[] = []

  set(lobes: readonly Lobe[]): void {
    if (lobes.length > this.weights.length) throw new RangeError(`at most ${this.weights.length} lobes`)
    this.count = lobes.length
    this.tightest = 0
    for (let l = 0; l < lobes.length; l++) {
      const lobe = lobes[l]!
      this.weights[l] = lobe.weight
      this.tables[l] = null
      this.kind[l] = Math.min(2, lobe.parts.length)
      for (const { concentration } of lobe.parts)
        if (concentration > this.tightest) this.tightest = concentration
      if (lobe.parts.length === 1) {
        const { angle, concentration, scale } = lobe.parts[0]!
        this.scale[l] = scale
        this.concentration[l] = concentration
        this.east[l] = concentration * Math.cos(angle)
        this.north[l] = concentration * Math.sin(angle)
      } else if (lobe.parts.length > 1) this.tables[l] = tableOf(lobe)
    }
  }

  /** Densities of one lobe at `size` angles within 0 and 2π, per radian, written from `place` on into `out`. */
  fill(
    l: number,
    angle: Float64Array,
    cos: Float64Array,
    sin: Float64Array,
    size: number,
    out: Float64Array,
    place: number,
  ): void {
    const kind = this.kind[l]
    if (kind === 0) for (let k = 0; k < size; k++) out[place + k] = 1 / FULL_TURN
    else if (kind === 1) {
      const scale = this.scale[l]!
      const east = this.east[l]!
      const north = this.north[l]!
      const concentration = this.concentration[l]!
      for (let k = 0; k < size; k++)
        out[place + k] = scale * Math.exp(east * cos[k]! + north * sin[k]! - concentration)
    } else {
      const table = this.tables[l]!
      for (let k = 0; k < size; k++) out[place + k] = between(table, angle[k]!)
    }
  }
}

const TABLE = 1440
const kept = new WeakMap<Lobe['parts'], Float64Array>()

/** Density of a lobe of many parts, laid out once: the trees of a site share one rose. */
function tableOf(lobe: Lobe): Float64Array {
  let table = kept.get(lobe.parts)
  if (!table) {
    // One more before the turn and two after it, for the four places that each value is taken from.
    table = Float64Array.from({ length: TABLE + 3 }, (_, i) => lobeAt(lobe, ((i - 1) * FULL_TURN) / TABLE))
    kept.set(lobe.parts, table)
  }
  return table
}

/** Cubic through four places of the table; for a concentration of 30 within 3e-8 of the density's highest. */
function between(table: Float64Array, angle: number): number {
  const place = (angle * TABLE) / FULL_TURN
  const cell = Math.max(0, Math.min(TABLE - 1, Math.floor(place)))
  const t = place - cell
  const a = table[cell]!
  const b = table[cell + 1]!
  const c = table[cell + 2]!
  const d = table[cell + 3]!
  return (
    (-t * (t - 1) * (t - 2) * a) / 6 +
    ((t + 1) * (t - 1) * (t - 2) * b) / 2 -
    ((t + 1) * t * (t - 2) * c) / 2 +
    ((t + 1) * t * (t - 1) * d) / 6
  )
}
