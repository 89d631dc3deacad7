import type { Policy } from './policy.ts'

/**
 * The policy an organisation starts with and then makes its own. Assumption throughout: no published text gives a table of
 * this kind; its months lie within the published ranges (12-60 months in general, 36-60 for low risk, several months to 12
 * for high risk: the trade's best management practice for tree risk assessment, p. 49).
 */
export const startingPolicy: Policy = {
  edition: 'starting-1',
  months: {
    constant: {
      small: { slow: 36, ordinary: 36, fast: 24 },
      medium: { slow: 36, ordinary: 24, fast: 18 },
      large: { slow: 24, ordinary: 18, fast: 12 },
    },
    frequent: {
      small: { slow: 48, ordinary: 48, fast: 36 },
      medium: { slow: 48, ordinary: 36, fast: 24 },
      // Below 36: a court found that too long for a large tree on a busy road (Witley PC v Cavanagh [2018] EWCA Civ 2232).
      large: { slow: 30, ordinary: 24, fast: 18 },
    },
    occasional: {
      small: { slow: 60, ordinary: 60, fast: 48 },
      medium: { slow: 60, ordinary: 48, fast: 36 },
      large: { slow: 48, ordinary: 36, fast: 24 },
    },
    rare: {
      small: { slow: 60, ordinary: 60, fast: 60 },
      medium: { slow: 60, ordinary: 60, fast: 48 },
      large: { slow: 60, ordinary: 48, fast: 36 },
    },
  },
  capMonths: {
    extreme: { constant: 3, frequent: 3, occasional: 6, rare: 6 },
    high: { constant: 6, frequent: 12, occasional: 12, rare: 12 },
    moderate: { constant: 12, frequent: 18, occasional: 24, rare: 36 },
    low: { constant: 36, frequent: 48, occasional: 60, rare: 60 },
  },
  // Assumption: level 2 is what the trade's form is made for; a limited look will do where little is at stake.
  levels: {
    unrated: { constant: 2, frequent: 2, occasional: 1, rare: 1 },
    extreme: { constant: 2, frequent: 2, occasional: 2, rare: 2 },
    high: { constant: 2, frequent: 2, occasional: 2, rare: 2 },
    moderate: { constant: 2, frequent: 2, occasional: 2, rare: 2 },
    low: { constant: 2, frequent: 2, occasional: 1, rare: 1 },
  },
  graceDays: { extreme: 0, high: 0, moderate: 30, low: 60 },
  season: {
    // The crown's branches are easier to judge out of leaf (the trade's best management practice, p. 49).
    prefer: 'out-of-leaf',
    months: { 'in-leaf': [5, 6, 7, 8, 9], 'out-of-leaf': [11, 12, 1, 2, 3] },
    keepShare: 2 / 3,
  },
  baselineMonths: { constant: 3, frequent: 6, occasional: 12, rare: 24 },
  // One council's response times (Chorley, tree policy, page 7): urgent 24 h, high 3 months, medium 12, low 24; extreme is ours.
  workDays: { imminent: 1, extreme: 7, high: 90, moderate: 365, low: 730 },
  unratedRisk: 'moderate',
  partSizeFromCm: { medium: 10, large: 30 },
  events: {
    gust: { withinDays: 14, level: 1, sameDayCounts: false },
    digging: { withinDays: 30, level: 2, sameDayCounts: true },
    'failure-nearby': { withinDays: 14, level: 2, sameDayCounts: false },
    complaint: { withinDays: 30, level: 1, sameDayCounts: true },
    'second-look': { withinDays: 60, level: 3, sameDayCounts: false },
    'zone-changed': { withinDays: 90, level: 2, sameDayCounts: true },
  },
  riskWeights: { low: 1, moderate: 3, high: 10, extreme: 30 },
}
