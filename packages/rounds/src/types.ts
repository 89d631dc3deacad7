import type { CivilDate, RefusalCode, VisitLevel } from '@underbough/model'
import type { TravelModel } from './travel.ts'

/** Longitude and latitude in degrees (WGS84). */
export type LonLat = readonly [longitude: number, latitude: number]

/** Hours of one day, minutes after local midnight, 0 to 1440. */
export interface DayHours {
  fromMinute: number
  toMinute: number
}

/** When a tree can be visited. The whole visit, start to leave, lies inside. Weekdays: 0 Monday to 6 Sunday; none named means every day. */
export interface VisitWindow extends DayHours {
  weekdays?: readonly number[] | undefined
}

/** One tree that is due for a look. */
export interface RoundVisit {
  id: string
  longitude: number
  latitude: number
  /** Minutes at the tree, 0 to 1440; see `serviceMinutes`. */
  serviceMinutes: number
  level: VisitLevel
  /** What the crew must carry, in the organisation's own words; compared letter by letter. */
  equipment: readonly string[]
  /** What one day overdue weighs, at least 0; see `riskWeightOf`. */
  riskWeight: number
  dueOn: CivilDate
  /** Set when the tree was already overdue before `dueOn` was set anew: lateness counts from the earlier of the two. */
  overdueSince?: CivilDate | undefined
  windows?: readonly VisitWindow[] | undefined
  /** A person's decision: only this crew, only this date, or both. */
  pinned?: { crewId?: string | undefined; date?: CivilDate | undefined } | undefined
  /** Price in seconds of not visiting it within the horizon. Default: see `RoundWeights`. */
  priceUnserved?: number | undefined
}

/** People who go out together. */
export interface Crew {
  id: string
  name: string
  /** The highest level of visit the crew may do. */
  level: VisitLevel
  equipment: readonly string[]
  members: readonly string[]
  start: LonLat
  end: LonLat
  /** Seven entries, 0 Monday to 6 Sunday; null for a day without work. */
  hours: readonly (DayHours | null)[]
  /** A pause between two stops once `atMinute` is reached (the middle of the hours when not given). Not at a tree, not half-way through a visit. */
  break?: { minutes: number; atMinute?: number | undefined } | undefined
  daysOff: readonly CivilDate[]
}

/** What a plan weighs against what. All are assumptions of ours and editable. */
export interface RoundWeights {
  /** Seconds on the way that one risk-day (risk weight 1, one day overdue) is worth. Shown to people. */
  secondsPerRiskDay: number
  /** A tree left out is counted as waiting this many days past the horizon. */
  carriedOverDays: number
  /** Seconds added to the price of leaving a tree out, beyond its own way there and back. */
  unservedBaseSeconds: number
}

/** All that a plan is made from. */
export interface RoundInput {
  visits: readonly RoundVisit[]
  crews: readonly Crew[]
  from: CivilDate
  /** A count of working days (a day on which at least one crew works), or the last date, which belongs to the horizon. */
  days: number | CivilDate
  travel: TravelModel
  /** Day sheets already issued. They stay as they are; their trees and their crew's day are not planned again. */
  frozen?: readonly DaySheet[] | undefined
  weights?: Partial<RoundWeights> | undefined
}

/** How far a plan has come. */
export interface RoundProgress {
  iteration: number
  iterations: number
  /** Cost of the best plan so far, seconds. */
  total: number
  placed: number
  unplaced: number
  /** Builds the best plan so far. Costs a little: call it when the plan is wanted. */
  plan(): RoundPlan
}

export interface RoundOptions {
  seed: number
  /** Improving steps after the first plan; 0 gives the first plan. The plan depends on the seed and this number, never on the clock. */
  iterations: number
  onProgress?: ((progress: RoundProgress) => void) | undefined
  /** Asked between steps; true stops and keeps the best plan so far. */
  cancelled?: (() => boolean) | undefined
}

/** One tree on a day sheet. Minutes are minutes after local midnight, exact to the second. */
export interface RoundStop {
  visitId: string
  /** 1 for the first stop. */
  order: number
  arriveMinute: number
  startMinute: number
  leaveMinute: number
  /** The way from the stop before (or from the start place). */
  travelMinutes: number
  travelM: number
}

/** One crew's day. */
export interface DaySheet {
  crewId: string
  date: CivilDate
  stops: RoundStop[]
  startMinute: number
  /** Back at the end place. */
  endMinute: number
  /** The whole way, with the one back to the end place. */
  travelMinutes: number
  travelM: number
  serviceMinutes: number
  /** The pause, when the day reaches that far. */
  break?: { startMinute: number; minutes: number } | undefined
  /** Issued before this plan was made, and left as it was. */
  frozen?: boolean | undefined
}

/** A tree that found no place, and why. */
export interface UnplacedVisit {
  visitId: string
  code: RefusalCode
  message: string
  /** Seconds by which the plan's total would rise if the tree were put in (in a gap or in the place of one other); null when no such change makes room. Below 0 only in a plan that was stopped early. */
  addedCost: number | null
}

/** The parts of the objective. Sheets already issued are not counted: they are not this plan's to decide. */
export interface RoundCost {
  travelSeconds: number
  /** Σ risk weight × days overdue on the day of the visit. */
  riskDays: number
  /** Seconds: the prices of the trees left out. */
  unserved: number
  /** travelSeconds + secondsPerRiskDay × riskDays + unserved. */
  total: number
}

/** Day sheets, what was left out and why, and what it all costs. */
export interface RoundPlan {
  /** By date, then in the order of the crews. */
  daySheets: DaySheet[]
  unplaced: UnplacedVisit[]
  cost: RoundCost
  weights: RoundWeights
  travelSource: { source: string; asOf: CivilDate | null }
  seed: number
  /** Improving steps done; fewer than asked for when a person stopped it. */
  iterations: number
  methodVersion: string
}
