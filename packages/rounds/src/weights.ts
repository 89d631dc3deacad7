import { type RiskWord, riskWords, type VisitLevel } from '@underbough/model'
import type { RoundWeights } from './types.ts'

/** Assumption: minutes at a tree by level of visit (limited, basic, advanced). */
export const minutesByLevel: Readonly<Record<VisitLevel, number>> = { 1: 4, 2: 12, 3: 40 }

/** Assumption: what one day overdue weighs by risk word. */
export const weightByRisk: Readonly<Record<RiskWord, number>> = { low: 1, moderate: 3, high: 10, extreme: 30 }

/** Assumption: a tree never rated weighs as a moderate one until somebody has looked. */
export const weightNeverRated = weightByRisk.moderate

/** Assumption: a tree overdue for so many days weighs twice as much as one just due; capped there. */
export const daysUntilDouble = 90

/** Assumption: the weights of a plan when nobody set others. */
export const defaultWeights: Readonly<RoundWeights> = {
  secondsPerRiskDay: 30,
  carriedOverDays: 10,
  unservedBaseSeconds: 600,
}

/** Minutes to allow at one tree, by level; `minutes` replaces the defaults. */
export function serviceMinutes(
  level: VisitLevel,
  minutes: Readonly<Record<VisitLevel, number>> = minutesByLevel,
): number {
  return minutes[level]
}

/**
 * What one day overdue weighs, so that overdue high risk goes first.
 * The word's weight, growing evenly to twice that at `daysUntilDouble` days overdue; null for a tree never rated.
 */
export function riskWeightOf(
  risk: RiskWord | null,
  daysOverdue = 0,
  weights: Readonly<Record<RiskWord, number>> = weightByRisk,
): number {
  if (risk !== null && !riskWords.includes(risk)) throw new RangeError(`“${risk}” is not a risk word`)
  const base = risk === null ? weightNeverRated : weights[risk]
  return base * (1 + Math.min(Math.max(daysOverdue, 0), daysUntilDouble) / daysUntilDouble)
}
