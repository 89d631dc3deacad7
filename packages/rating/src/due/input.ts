import type {
  ChangeWord,
  CivilDate,
  Due,
  FailureWord,
  OccupancyWord,
  PartSizeWord,
  RiskWord,
  TreeStatus,
  VisitLevel,
  WorkKind,
  WorkState,
} from '@underbough/model'
import type { EventKind, LeafPreference } from '../policy/policy.ts'
import type { RuleName } from './rules.ts'

/** A look that was made. Only closed ones count; a walk-over is a closed look of level 1. */
export interface DueVisit {
  on: CivilDate
  level: VisitLevel
  closed: boolean
}

/** The rating in force. `dueRatingOf` makes one from a stored rating. */
export interface DueRating {
  ratedOn: CivilDate
  risk: RiskWord
  /** Risk that would remain after the proposed work; counts once the work is done. */
  residualRisk: RiskWord | null
  /** Worst failure word of any scenario; `imminent` overrides the time frame. */
  worstFailure: FailureWord
  partSize: PartSizeWord
  changeRate: ChangeWord
  /** Occupancy words of the targets rated; may be empty. */
  occupancyWords: readonly OccupancyWord[]
  /** Since when the tree has stood at this risk or a worse one untreated (`untreatedSince`); `ratedOn` where left out. */
  untreatedSince?: CivilDate
}

export interface DueWork {
  kind: WorkKind
  state: WorkState
  dueOn: CivilDate | null
  doneOn: CivilDate | null
  /** Risk that remained after this work. */
  residualRisk: RiskWord | null
  /** Day the work was proposed, where known; a work without a date counts from here. */
  proposedOn?: CivilDate | null
}

export interface DueEvent {
  on: CivilDate
  kind: EventKind
  /** Null: as the policy says for this kind. */
  lookWithinDays: number | null
}

/** Everything the due date of one tree depends on. All dates are civil dates at the site. */
export interface DueInput {
  treeId: string
  status: TreeStatus
  importedOn: CivilDate
  hemisphere: 'north' | 'south'
  lastVisits: readonly DueVisit[]
  rating: DueRating | null
  /** Every work of the tree, open, done or refused. */
  works: readonly DueWork[]
  events: readonly DueEvent[]
  /** Use of the heaviest zone within reach; null for none, which counts as rare. */
  zoneUse: OccupancyWord | null
  stemDiameterCm: number | null
  /** From `baselineShares`: above 0 for the largest of its class, 1 for the last; null counts as 1. */
  rankInBaseline: number | null
  /** Leaf state this tree wants to be looked at in, where that differs from the policy's. */
  leafPreference?: LeafPreference
}

/** One rule that shaped the date, in words, for the drawer of reasons. */
export interface DuePart {
  rule: RuleName
  words: string
}

/** The due record with the rules behind it. */
export interface DueDecision extends Due {
  parts: DuePart[]
}
