import {
  type CivilDate,
  combinedDiameterCm,
  type OccupancyWord,
  type Organisation,
  type Tree,
  today,
  type Visit,
  type Work,
} from '@underbough/model'
import type { EventKind } from '../policy/policy.ts'
import type { DatedRating, TreeRecords } from './from-records.ts'
import type { DueVisit, DueWork } from './input.ts'

/** A tree with its records as the office answers them. Instants are instants, other days civil dates at the site. */
export interface TreeOnRecord {
  tree: Pick<Tree, 'id' | 'status' | 'stems'>
  visits: readonly Pick<Visit, 'id' | 'startedAt' | 'level' | 'stage'>[]
  ratings: readonly (DatedRating['rating'] & { ratedAt: string })[]
  works: readonly WorkOnRecord[]
  events: readonly { kind: string; on: CivilDate; lookWithinDays: number | null }[]
  walkOvers: readonly { on: CivilDate }[]
  dueBasis: { enteredOn: CivilDate; zoneUse: OccupancyWord | null; baselineShare: number | null }
}
type WorkOnRecord = Pick<Work, 'kind' | 'state' | 'dueOn' | 'doneOn' | 'residualRisk' | 'visitId'>

/** A visit that is closed, or would be now, and that the office need not have yet. */
export interface VisitMade {
  visit: Pick<Visit, 'id' | 'startedAt' | 'level'>
  /** Null where none is made and the one in force stays. */
  rating: DatedRating['rating'] | null
  ratedAt: string
  works: readonly Omit<WorkOnRecord, 'state' | 'doneOn'>[]
}

/** What a tree's due date follows from, once `made` is on record too. */
export function recordsWith(
  known: TreeOnRecord,
  made: VisitMade | null,
  place: Pick<Organisation, 'timeZone' | 'hemisphere'>,
  occupancyOf: TreeRecords['occupancyOf'],
): TreeRecords {
  const dayOf = (instant: string) => today(place.timeZone, new Date(instant))
  const others = known.visits.filter((visit) => visit.id !== made?.visit.id)
  const visits = made ? [...others, { ...made.visit, stage: 'closed' as const }] : others
  const ratings = known.ratings.map((rating) => ({ rating, at: rating.ratedAt }))
  if (made?.rating) ratings.push({ rating: { ...made.rating, ratedAt: made.ratedAt }, at: made.ratedAt })
  const dayOfVisit = new Map(visits.map((visit) => [visit.id, dayOf(visit.startedAt)]))
  const works = [
    ...known.works,
    ...(made?.works ?? []).map((work) => ({ ...work, state: 'proposed' as const, doneOn: null })),
  ]
  const { stems } = known.tree
  return {
    treeId: known.tree.id,
    status: known.tree.status,
    hemisphere: place.hemisphere,
    ...known.dueBasis,
    stemDiameterCm: stems.length > 0 ? combinedDiameterCm(stems.map((stem) => stem.diameterCm)) : null,
    looks: [
      ...visits.map(
        ({ startedAt, level, stage }): DueVisit => ({
          on: dayOf(startedAt),
          level,
          closed: stage === 'closed',
        }),
      ),
      ...known.walkOvers.map(({ on }): DueVisit => ({ on, level: 1, closed: true })),
    ],
    ratingsNewestFirst: ratings
      .toSorted((a, b) => Date.parse(b.at) - Date.parse(a.at))
      .map(({ rating, at }) => ({ rating, on: dayOf(at) })),
    works: works.map(
      ({ visitId, ...work }): DueWork => ({
        ...work,
        proposedOn: visitId === null ? null : (dayOfVisit.get(visitId) ?? null),
      }),
    ),
    events: known.events.map((event) => ({ ...event, kind: event.kind as EventKind })),
    occupancyOf,
  }
}
