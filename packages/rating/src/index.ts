/** How bad it is, and when to look again: matrices, ratings, policies, due dates and their reasons. */
export { baselineDate, baselineRamp, baselineShares, type UnseenTree } from './due/baseline.ts'
export { dueOf, isOverdue, riskDays, rulesApplied } from './due/due.ts'
export {
  type DatedRating,
  dueInputOf,
  dueRatingOf,
  type PastRating,
  type TreeRecords,
  untreatedSince,
} from './due/from-records.ts'
export type {
  DueDecision,
  DueEvent,
  DueInput,
  DuePart,
  DueRating,
  DueVisit,
  DueWork,
} from './due/input.ts'
export { recordsWith, type TreeOnRecord, type VisitMade } from './due/on-record.ts'
export { type RuleName, rules } from './due/rules.ts'
export { type SeasonStep, seasonedDate, seasonMonths } from './due/season.ts'
export { eventNames, plainDate, workNames } from './due/words.ts'
// expected per year: off until the organisation decides
export { type Agreement, agreementWith, type OwnRecord, type YearsAtRisk } from './estimate/agreement.ts'
export {
  checkBands,
  type FailureBand,
  type FailureBands,
  failureBandsSchema,
  startingBands,
  WIDEST_BAND,
} from './estimate/bands.ts'
export {
  chanceOfAny,
  failureRate,
  type Interval,
  poissonInterval,
  poissonUpper,
  shareOf,
} from './estimate/counts.ts'
export {
  assessorsDiffer,
  expectedPerYear,
  type Mover,
  type MoverKind,
  moversOf,
  moverWords,
  type ScenarioOver,
} from './estimate/expected.ts'
export {
  besidePublishedLines,
  individualPerYear,
  type LineVerdict,
  lineVerdictWords,
  publishedLines,
  type ScenarioOverPlace,
  startingVulnerability,
  type Vulnerability,
} from './estimate/individual.ts'
export { type Span, yearlyChance, yearlySpan } from './estimate/yearly.ts'
export { missingToClose } from './judgement/closing.ts'
export {
  type ImpactBasis,
  type ImpactQuestion,
  impactCuts,
  proposeImpact,
  questionImpact,
} from './judgement/impact.ts'
export { jointLikelihood, matrices, riskOf } from './judgement/matrices.ts'
export {
  methodVersion,
  type RatedScenarios,
  type RatedTarget,
  type RatedTree,
  rateScenarios,
  rateTree,
} from './judgement/rate.ts'
export { checkPolicy, readPolicy } from './policy/check.ts'
export {
  type DeadlineWord,
  deadlineWords,
  type EventKind,
  eventKinds,
  intervalOf,
  type LeafPreference,
  leafPreferences,
  type Policy,
  type PolicyDraft,
  partSizeOf,
  policyDraft,
  policySchema,
} from './policy/policy.ts'
export { balancedIntervalYears } from './policy/sanity.ts'
export { startingPolicy } from './policy/starting.ts'
