import type { WoodCondition, WoodSegment } from '@underbough/model'
import { type Draws, drawsFrom } from '../random.ts'
import type { Delimiter, DepthUnit } from './types.ts'

export interface SyntheticTraceInput {
  /** Any whole number; the same seed gives the same trace. */
  seed: number
  barkCm: number
  /** True borders, from the bark inwards and without gaps; the trace ends with the last. */
  segments: readonly WoodSegment[]
  /** Between two rows; 0.01 unless said. */
  stepCm?: number
  /** Mean width of a ring; 0.3 unless said. */
  ringCm?: number
  /** Resistance of firm wood; 40 unless said. */
  soundLevel?: number
  /** Creep of the resistance with depth, as a share of the firm level per cm; 0.003 unless said. */
  creep?: number
  /** Standard deviation of a row's noise, as a share of the firm level; 0.03 unless said. */
  noise?: number
  /** Level of softened wood as a share of the firm level; 0.3 unless said. */
  softened?: number
  /** Slow ups and downs of the wood's firmness, as a share of it; 0.06 unless said. */
  wander?: number
  /** Length over which one condition passes into the next; 0.2 unless said. */
  passageCm?: number
  /** How the text is written: depths in mm, a semicolon, a decimal point unless said. */
  depthUnit?: DepthUnit
  delimiter?: Delimiter
  decimalMark?: '.' | ','
}

export interface SyntheticTrace {
  depthsCm: Float64Array
  resistances: Float64Array
  /** The same as a text with one header row, column 0 depth and column 1 resistance. */
  raw: string
}

/** Share of the firm level; invented, of the order seen in practice (common practice, no source). */
const levelOf: Readonly<Record<string, number>> = {
  bark: 0.2,
  sound: 1,
  stained: 1,
  void: 0.02,
}
/** Half the rise of a ring from early to late wood, as a share of the level. */
const ringSwing: Readonly<Record<WoodCondition | 'bark', number>> = {
  bark: 0.1,
  sound: 0.35,
  stained: 0.35,
  'softened-brittle': 0.15,
  'softened-fibrous': 0.15,
  void: 0,
}
/**
 * An INVENTED drill-resistance trace with known borders, for the demo and for checks: never for a tree. Rings are a saw-tooth of uneven width
 * that rises through the early wood and falls sharply after the late wood; resistance creeps up with depth; every row has its noise.
 */
export function syntheticTrace(input: SyntheticTraceInput): SyntheticTrace {
  const { seed, barkCm, segments, stepCm = 0.01, ringCm = 0.3, soundLevel = 40 } = input
  const { creep = 0.003, noise = 0.03, wander = 0.06, softened = 0.3, passageCm = 0.2 } = input
  const draws = drawsFrom(seed)
  const stretches = [{ fromCm: 0, toCm: barkCm, condition: 'bark' as const }, ...segments].filter(
    ({ fromCm, toCm }) => toCm > fromCm,
  )
  const lengthCm = stretches.at(-1)?.toCm ?? 0
  const rows = Math.floor(lengthCm / stepCm + 1e-6) + 1
  const ring = ringsOf(draws, ringCm)
  const slow = wanderOf(draws)
  const depthsCm = new Float64Array(rows)
  const resistances = new Float64Array(rows)
  for (let i = 0; i < rows; i++) {
    const depthCm = i * stepCm
    const phase = ring(depthCm)
    const firmness = 1 + wander * slow(depthCm)
    let level = 0
    for (const { fromCm, toCm, condition } of stretches) {
      const weight = within(depthCm, fromCm, toCm, lengthCm, passageCm)
      const share = condition.startsWith('softened') ? softened : levelOf[condition]
      level += weight * share * firmness * (1 + ringSwing[condition] * phase)
    }
    depthsCm[i] = depthCm
    const rowNoise = noise * draws.normal() * Math.min(1, 0.3 + level)
    resistances[i] = soundLevel * Math.max(0, level + creep * depthCm + rowNoise)
  }
  return { depthsCm, resistances, raw: written(depthsCm, resistances, input) }
}

/** Weight of a stretch at a depth: 1 within it, a half at its border, 0 and 1 half a passage away. */
function within(depthCm: number, fromCm: number, toCm: number, lengthCm: number, passageCm: number): number {
  const past = (borderCm: number) => Math.min(1, Math.max(0, 0.5 + (depthCm - borderCm) / passageCm))
  return (fromCm <= 0 ? 1 : past(fromCm)) - (toCm >= lengthCm ? 0 : past(toCm))
}

/** A slow line through standard normal values 3 cm apart; asked with rising depths. */
function wanderOf(draws: Draws): (depthCm: number) => number {
  const apartCm = 3
  let knot = 0
  let before = draws.normal()
  let after = draws.normal()
  return (depthCm) => {
    while (depthCm > (knot + 1) * apartCm) {
      knot += 1
      before = after
      after = draws.normal()
    }
    return before + (after - before) * (depthCm / apartCm - knot)
  }
}

/** −1 at the beginning of early wood, +1 at the end of late wood; asked with rising depths. */
function ringsOf(draws: Draws, ringCm: number): (depthCm: number) => number {
  let beganCm = 0
  let widthCm = ringCm
  let swing = 1
  return (depthCm) => {
    while (depthCm >= beganCm + widthCm) {
      beganCm += widthCm
      widthCm = ringCm * Math.max(0.4, 1 + 0.25 * draws.normal())
      swing = Math.max(0.4, 1 + 0.2 * draws.normal())
    }
    const share = (depthCm - beganCm) / widthCm
    return swing * (share < 0.85 ? (2 * share) / 0.85 - 1 : 1 - (2 * (share - 0.85)) / 0.15)
  }
}

function written(
  depthsCm: Float64Array,
  resistances: Float64Array,
  { depthUnit = 'mm', delimiter = ';', decimalMark = '.' }: SyntheticTraceInput,
): string {
  const perCm = { mm: 10, cm: 1, in: 1 / 2.54 }[depthUnit]
  const places = { mm: 3, cm: 4, in: 5 }[depthUnit]
  const between = delimiter === 'spaces' ? '  ' : delimiter
  const say = (value: number, digits: number) => {
    const plain = value.toFixed(digits).replace('.', decimalMark)
    return delimiter === ',' && decimalMark === ',' ? `"${plain}"` : plain
  }
  const rows = [`depth_${depthUnit}${between}resistance_%`]
  for (let i = 0; i < depthsCm.length; i++)
    rows.push(say(depthsCm[i] * perCm, places) + between + say(resistances[i], 2))
  return `${rows.join('\n')}\n`
}
