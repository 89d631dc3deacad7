import {
  type CivilDate,
  type FailureWord,
  failureWords,
  type OccupancyWord,
  type Rating,
  type RiskWord,
  rank,
  riskWords,
  type TreeStatus,
} from '@underbough/model'
import type { DueEvent, DueInput, DueRating, DueVisit, DueWork } from './input.ts'
import { treats } from './work.ts'

/** What `untreatedSince` reads of one rating. */
export interface PastRating {
  ratedOn: CivilDate
  risk: RiskWord
  worstFailure: FailureWord
}

/**
 * Since when a tree has stood at its present risk or a worse one with nothing done, from its ratings, newest
 * first: looking and rating again does not restart the clock of its work. A treating work done between two ratings does.
 * Throws RangeError on an empty list.
 */
export function untreatedSince(newestFirst: readonly PastRating[], works: readonly DueWork[]): CivilDate {
  const present = newestFirst[0]
  if (!present) throw new RangeError('no rating')
  let since = present.ratedOn
  for (const earlier of newestFirst.slice(1)) {
    const treated = works.some(
      (w) =>
        treats(w.kind) &&
        w.state === 'done' &&
        w.doneOn !== null &&
        w.doneOn >= earlier.ratedOn &&
        w.doneOn < since,
    )
    if (treated || severity(earlier) < severity(present)) break
    since = earlier.ratedOn
  }
  return since
}

/** Imminent failure is beyond every risk word. */
const severity = (rating: PastRating) =>
  rating.worstFailure === 'imminent' ? riskWords.length : rank(riskWords, rating.risk)

/**
 * The due input's rating from a stored rating. `ratedOn` is the civil date at the site of `ratedAt`;
 * `occupancyOf` looks up a zone's word and gives null for a zone that is gone.
 */
export function dueRatingOf(
  rating: DatedRating['rating'],
  ratedOn: CivilDate,
  occupancyOf: (zoneId: string) => OccupancyWord | null,
): DueRating {
  const zoneIds = rating.scenarios.flatMap((s) => s.targets.flatMap((t) => (t.zoneId ? [t.zoneId] : [])))
  const words = [...new Set(zoneIds)].map(occupancyOf).filter((word) => word !== null)
  return {
    ratedOn,
    risk: rating.risk,
    residualRisk: rating.residualRisk,
    worstFailure: failureWords[Math.max(...rating.scenarios.map((s) => rank(failureWords, s.failure)))]!,
    partSize: rating.scenarios.find((s) => s.id === rating.worst.scenarioId)?.partSize ?? 'large',
    changeRate: rating.changeRate,
    occupancyWords: words,
  }
}

/** A rating with the civil date at the site on which it was made. */
export interface DatedRating {
  rating: Pick<Rating, 'scenarios' | 'risk' | 'residualRisk' | 'worst' | 'changeRate'>
  on: CivilDate
}

/** All that a tree's due date follows from, as it stands on record. The office and a phone date a tree from the same. */
export interface TreeRecords {
  treeId: string
  status: TreeStatus
  /** Day on which the tree came into the inventory. */
  enteredOn: CivilDate
  hemisphere: 'north' | 'south'
  /** Visits and walk-overs. */
  looks: readonly DueVisit[]
  ratingsNewestFirst: readonly DatedRating[]
  works: readonly DueWork[]
  events: readonly DueEvent[]
  /** Use of the heaviest zone within the tree's own height. */
  zoneUse: OccupancyWord | null
  stemDiameterCm: number | null
  /** Place among the trees nobody has seen, above 0 to 1; null where none was given. */
  baselineShare: number | null
  occupancyOf: (zoneId: string) => OccupancyWord | null
}

/** Reads a tree's records into what `dueOf` asks for. */
export function dueInputOf(records: TreeRecords): DueInput {
  const { ratingsNewestFirst, works, occupancyOf } = records
  const read = ratingsNewestFirst.map(({ rating, on }) => dueRatingOf(rating, on, occupancyOf))
  const present = read[0]
  return {
    treeId: records.treeId,
    status: records.status,
    importedOn: records.enteredOn,
    hemisphere: records.hemisphere,
    lastVisits: records.looks,
    rating: present ? { ...present, untreatedSince: untreatedSince(read, works) } : null,
    works,
    events: records.events,
    zoneUse: records.zoneUse,
    stemDiameterCm: records.stemDiameterCm,
    rankInBaseline: records.baselineShare,
  }
}
