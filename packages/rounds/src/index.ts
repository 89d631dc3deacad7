/** Who goes where on which day: due trees, crews and hours to day sheets. */
export { accruedRiskDays } from './accrued.ts'
export { checkPlan } from './check.ts'
export {
  clockOf,
  type OpenStop,
  type RestClock,
  type RestOfDay,
  type StopClock,
  shorterOrder,
} from './day.ts'
export { mostVisits, mostWorkingDays } from './input.ts'
export { methodVersion } from './method.ts'
export { urgencyThenNearest } from './peer.ts'
export { planRounds, planRoundsInSteps } from './plan.ts'
export { costOf } from './recount.ts'
export {
  clockOfSheet,
  inOrder,
  restOf,
  type SheetClock,
  type SheetInHand,
  type StopInHand,
} from './sheet-order.ts'
export {
  defaultStraightLine,
  type GivenMatrix,
  matrixTravel,
  noWaySeconds,
  type StraightLine,
  straightLineTravel,
  type TravelMatrix,
  type TravelModel,
  type TravelPoint,
} from './travel.ts'
export type * from './types.ts'
export {
  daysUntilDouble,
  defaultWeights,
  minutesByLevel,
  riskWeightOf,
  serviceMinutes,
  weightByRisk,
  weightNeverRated,
} from './weights.ts'
