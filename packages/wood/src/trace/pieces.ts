import type { Bins } from './bins.ts'
import { changePoints } from './changes.ts'
import { hampel, median, quantile, robustSigma, runningMedian, weightedMedian } from './robust.ts'

/** A stretch between two change points. */
export interface Piece {
  fromCm: number
  toCm: number
  /** Median with the creep taken off. */
  level: number
  /** Robust spread of its values: rings make wood uneven, air is even. */
  spread: number
  /** Whether it follows the piece before without a gap. */
  joined: boolean
}

// Set by trial on invented traces with known borders (tests/published/wood-trace.spec.ts); no published figure is known to us.
const rule = { shortestCm: 0.7, penaltyPerLog: 12, leastSpread: 0.03 }
const spike = { halfCm: 0.5, sigmas: 5 }
/** Slopes are read on pieces at least this long; they may lift the end of the trace by this share of its range at most. */
const creepRule = { shortestCm: 2, mostShare: 0.25 }

/** The trace without lone spikes. */
export function withoutSpikes(stretches: Bins[]): Bins[] {
  return stretches.map((bins) => ({
    ...bins,
    values: hampel(bins.values, halfBins(bins, spike.halfCm), spike.sigmas),
  }))
}

export const halfBins = ({ widthCm }: Bins, halfCm: number) => Math.max(1, Math.round(halfCm / widthCm))

/** 5th to 95th percentile of all values. */
export function rangeOf(stretches: Bins[]): number {
  const sorted = Float64Array.from(stretches.flatMap(({ values }) => [...values])).sort()
  return quantile(sorted, 0.95) - quantile(sorted, 0.05)
}

/** Pieces of even level and spread, in order of depth. */
export function piecesOf(stretches: Bins[], range: number): Piece[] {
  return stretches.flatMap((bins) => {
    const { values, widthCm, fromCm } = bins
    const fewest = Math.max(2, Math.round(rule.shortestCm / widthCm))
    const cuts = changePoints(
      values.map((value) => value / range),
      { penalty: rule.penaltyPerLog * Math.log(values.length), fewest, leastVariance: rule.leastSpread ** 2 },
    )
    const begins = [0, ...cuts]
    return begins.map((begin, i) => {
      const within = values.subarray(begin, begins[i + 1] ?? values.length)
      const level = median(within)
      return {
        fromCm: fromCm + begin * widthCm,
        toCm: i + 1 < begins.length ? fromCm + begins[i + 1] * widthCm : bins.toCm,
        level,
        spread: robustSigma(within, level),
        joined: i > 0,
      }
    })
  })
}

/**
 * How fast the resistance creeps up with depth, per cm: the middle slope of the long pieces, the longest and evenest
 * counting most (in air nothing but the creep is left). Never negative: wood
 * that softens inwards must not be lifted. Never so much that a piece would come to lie below air.
 */
export function creepOf(stretches: Bins[], pieces: Piece[], range: number): number {
  const long = pieces.filter(({ fromCm, toCm }) => toCm - fromCm >= creepRule.shortestCm)
  const slope = weightedMedian(
    long.map((piece) => ({
      value: slopeOf(stretches, piece),
      weight: (piece.toCm - piece.fromCm) / (piece.spread + 0.01 * range),
    })),
  )
  const air = Math.min(0, ...pieces.map(({ level }) => level))
  const most = pieces.map(({ fromCm, toCm, level }) => (level - air) / ((fromCm + toCm) / 2))
  const lastCm = stretches[stretches.length - 1].toCm
  return Math.max(0, Math.min(slope, (creepRule.mostShare * range) / lastCm, ...most)) || 0
}

/** Middle of the slopes between points half a piece apart (Theil 1950, Sen 1968, in the thrifty form of paired halves), rings smoothed out. */
function slopeOf(stretches: Bins[], { fromCm, toCm }: Piece): number {
  const bins = stretches.find((one) => one.fromCm <= fromCm + 1e-9 && one.toCm >= toCm - 1e-9)
  if (!bins) return 0
  const begin = Math.round((fromCm - bins.fromCm) / bins.widthCm)
  const end = Math.round((toCm - bins.fromCm) / bins.widthCm)
  const even = runningMedian(bins.values.subarray(begin, end), halfBins(bins, 0.4))
  const half = even.length >> 1
  return median(even.subarray(half).map((value, i) => (value - even[i]) / (half * bins.widthCm)))
}

/** The trace with the creep taken off. */
export function withoutCreep(stretches: Bins[], creepPerCm: number): Bins[] {
  return stretches.map((bins) => ({
    ...bins,
    values: bins.values.map((value, i) => value - creepPerCm * (bins.fromCm + (i + 0.5) * bins.widthCm)),
  }))
}
