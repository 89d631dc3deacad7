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
const levelOf: Readonly<Record<WoodCondition | 'bark', number>> = {
  bark: 0.2,
  sound: 1,
  stained: 1,
  'softened-brittle': 0.3,
  'softened-fibrous': 0.35,
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
/** Length over which the tip feels two neighbours at a border. */
const tipCm = 0.04

/**
 * An INVENTED drill-resistance trace with known borders, for the demo and for checks: never for a tree. Rings are a saw-tooth of uneven width
 * that rises through the early wood and falls sharply after the late wood; resistance creeps up with depth; every row has its noise.
 */
export function syntheticTrace(input: SyntheticTraceInput): SyntheticTrace {
  const { seed, barkCm, segments, stepCm = 0.01, ringCm = 0.3, soundLevel = 40 } = input
  const { creep = 0.003, noise = 0.03 } = input
  const draws = drawsFrom(seed)
  const stretches = [{ fromCm: 0, toCm: barkCm, condition: 'bark' as const }, ...segments].filter(
    ({ fromCm, toCm }) => toCm > fromCm,
  )
  const lengthCm = stretches.at(-1)?.toCm ?? 0
  const rows = Math.floor(lengthCm / stepCm + 1e-6) + 1
  const ring = ringsOf(draws, ringCm)
  const depthsCm = new Float64Array(rows)
  const resistances = new Float64Array(rows)
  for (let i = 0; i < rows; i++) {
    const depthCm = i * stepCm
    const phase = ring(depthCm)
    let level = 0
    for (const { fromCm, toCm, condition } of stretches) {
      const weight = within(depthCm, fromCm, toCm, lengthCm)
      if (weight > 0) level += weight * levelOf[condition] * (1 + ringSwing[condition] * phase)
    }
    depthsCm[i] = depthCm
    resistances[i] =
      soundLevel * Math.max(0, level + creep * depthCm + noise * draws.normal() * Math.min(1, 0.3 + level))
  }
  return { depthsCm, resistances, raw: written(depthsCm, resistances, input) }
}

/** How much the tip feels of a stretch: whole within it, half at its border. */
function within(depthCm: number, fromCm: number, toCm: number, lengthCm: number): number {
  const rise = fromCm <= 0 ? 1 : 1 / (1 + Math.exp((fromCm - depthCm) / tipCm))
  const fall = toCm >= lengthCm ? 0 : 1 / (1 + Math.exp((toCm - depthCm) / tipCm))
  return rise - fall
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
