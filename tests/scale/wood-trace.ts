import { proposeSegments, readTrace, type SyntheticTraceInput, syntheticTrace } from '@underbough/wood'
import type { BenchRow } from './row.ts'

/** Plain chances for scenarios, by the seed alone (Park and Miller 1988, doi 10.1145/63039.63042). */
function chances(seed: number): () => number {
  let state = (seed * 7919 + 17) % 2147483647
  return () => {
    state = (state * 48271) % 2147483647
    return state / 2147483647
  }
}

type Segments = SyntheticTraceInput['segments']

/**
 * An invented trace: what lies along it and how it shows are drawn from the seed (rings of 1 to 8 mm, softened wood at
 * 15 to 50 % of the firm level, borders that pass over 0.5 to 10 mm).
 */
export function scenario(seed: number): SyntheticTraceInput {
  const chance = chances(seed)
  const from = (least: number, most: number) => least + chance() * (most - least)
  const softened = chance() < 0.5 ? 'softened-brittle' : 'softened-fibrous'
  const kinds: (readonly Segments[number]['condition'][])[] = [
    ['sound'],
    ['sound', 'void'],
    ['sound', softened, 'void'],
    ['sound', softened, 'sound'],
    ['sound', 'void', 'sound'],
    ['sound', softened, 'void', softened, 'sound'],
  ]
  const barkCm = from(0.5, 2.5)
  let atCm = barkCm
  const segments = kinds[Math.floor(chance() * kinds.length)].map((condition) => {
    const fromCm = atCm
    atCm += condition === 'sound' ? from(4, 20) : from(1.5, 12)
    return { fromCm, toCm: atCm, condition }
  })
  return {
    seed,
    barkCm,
    segments,
    stepCm: chance() < 0.5 ? 0.01 : 0.005,
    ringCm: from(0.1, 0.8),
    soundLevel: from(10, 80),
    creep: from(0, 0.008),
    noise: from(0.01, 0.08),
    wander: from(0, 0.15),
    softened: from(0.15, 0.5),
    passageCm: from(0.05, 1),
  }
}

const kindOf = (condition: string) => (condition.startsWith('softened') ? 'softened' : condition)

export interface TraceScore {
  traces: number
  /** Where firm wood ends or begins, the true border and the nearest proposed one of the same sense, mm apart, ascending. */
  borderErrorsMm: number[]
  barkErrorsMm: number[]
  /** True ends of firm wood with no proposed one within 1 cm. */
  bordersMissed: number
  voids: number
  voidsMissed: number
  voidsInvented: number
  softened: number
  softenedMissed: number
  softenedInvented: number
}

/** How near the proposals come to the true borders of invented traces, seeds 1 to `traces`. */
export function traceScore(traces: number): TraceScore {
  const score: TraceScore = {
    traces,
    borderErrorsMm: [],
    barkErrorsMm: [],
    bordersMissed: 0,
    voids: 0,
    voidsMissed: 0,
    voidsInvented: 0,
    softened: 0,
    softenedMissed: 0,
    softenedInvented: 0,
  }
  for (let seed = 1; seed <= traces; seed++) scoreOne(score, scenario(seed))
  score.borderErrorsMm.sort((a, b) => a - b)
  score.barkErrorsMm.sort((a, b) => a - b)
  return score
}

function scoreOne(score: TraceScore, input: SyntheticTraceInput): void {
  const { depthsCm, resistances } = syntheticTrace(input)
  const { barkCm, segments } = proposeSegments({ depthsCm, resistances })
  if (barkCm !== null) score.barkErrorsMm.push(Math.abs(barkCm - input.barkCm) * 10)
  const proposed = firmEnds(segments)
  for (const end of firmEnds(input.segments)) {
    const error = Math.min(
      ...proposed
        .filter(({ inwards }) => inwards === end.inwards)
        .map(({ atCm }) => Math.abs(atCm - end.atCm) * 10),
    )
    if (error <= 10) score.borderErrorsMm.push(error)
    else score.bordersMissed += 1
  }
  for (const kind of ['void', 'softened'] as const) {
    const truth = input.segments.filter(({ condition }) => kindOf(condition) === kind)
    const found = segments.filter(({ condition }) => kindOf(condition) === kind)
    const missed = truth.filter((one) => sharedWith(one, found) < 0.5).length
    const invented = found.filter((one) => sharedWith(one, truth) < 0.5).length
    if (kind === 'void') {
      score.voids += truth.length
      score.voidsMissed += missed
      score.voidsInvented += invented
    } else {
      score.softened += truth.length
      score.softenedMissed += missed
      score.softenedInvented += invented
    }
  }
}

/** Borders between firm wood and what is not firm: on these the thickness of a wall stands. */
function firmEnds(list: Segments): { atCm: number; inwards: 'ends' | 'begins' }[] {
  const firm = list.map(({ condition }) => condition === 'sound')
  return list.slice(1).flatMap(({ fromCm }, i) => {
    if (firm[i] === firm[i + 1]) return []
    return [{ atCm: fromCm, inwards: firm[i] ? ('ends' as const) : ('begins' as const) }]
  })
}

/** Share of a segment that others cover. */
function sharedWith(one: Segments[number], others: Segments): number {
  const covered = others.reduce(
    (sum, other) => sum + Math.max(0, Math.min(one.toCm, other.toCm) - Math.max(one.fromCm, other.fromCm)),
    0,
  )
  return covered / (one.toCm - one.fromCm)
}

const at = (sorted: number[], share: number) =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]

/** 40,000 rows from text to segments, and the accuracy on 1,000 invented traces. */
export function traceRows(): BenchRow[] {
  const { raw } = syntheticTrace({
    seed: 1,
    barkCm: 1.2,
    stepCm: 0.001,
    segments: [
      { fromCm: 1.2, toCm: 9, condition: 'sound' },
      { fromCm: 9, toCm: 12, condition: 'softened-brittle' },
      { fromCm: 12, toCm: 30, condition: 'void' },
      { fromCm: 30, toCm: 40, condition: 'sound' },
    ],
  })
  const times = Array.from({ length: 5 }, () => {
    const began = performance.now()
    const trace = readTrace(raw, { depthUnit: 'mm', depthColumn: 0, resistanceColumn: 1 })
    if (!trace.ok) throw new Error(trace.refusals[0].message)
    proposeSegments(trace.value)
    return performance.now() - began
  }).sort((a, b) => a - b)
  const score = traceScore(1000)
  const title = `${score.traces} invented traces`
  const count = (what: string, figure: number, of: number): BenchRow => ({
    case: `${title}: ${what}`,
    figure,
    unit: `of ${of}`,
  })
  const borders = score.borderErrorsMm
  return [
    { case: 'trace of 40,001 rows, text to segments', figure: times[2], unit: 'ms', note: 'median of 5' },
    { case: `${title}: end of firm wood, error, median`, figure: at(borders, 0.5), unit: 'mm' },
    { case: `${title}: end of firm wood, error, 95 % within`, figure: at(borders, 0.95), unit: 'mm' },
    { case: `${title}: bark error, 95 % within`, figure: at(score.barkErrorsMm, 0.95), unit: 'mm' },
    count(
      'ends of firm wood off by over 1 cm or not found',
      score.bordersMissed,
      score.bordersMissed + borders.length,
    ),
    count('voids missed', score.voidsMissed, score.voids),
    count('voids invented', score.voidsInvented, score.traces),
    count('softened missed', score.softenedMissed, score.softened),
    count('softened invented', score.softenedInvented, score.traces),
  ]
}
