import { daysBetween } from '@underbough/model'
import type { RoundInput } from './types.ts'

/**
 * Risk-days that had run up before the first day of the horizon: Σ risk weight × days overdue on that day. No plan can win
 * them back, so a comparison of plans on the same input leaves them out of both.
 */
export function accruedRiskDays(input: Pick<RoundInput, 'visits' | 'from'>): number {
  return input.visits.reduce((sum, { dueOn, overdueSince, riskWeight }) => {
    const since = overdueSince && overdueSince < dueOn ? overdueSince : dueOn
    return sum + riskWeight * Math.max(0, daysBetween(since, input.from))
  }, 0)
}
