import { type Session, tables } from '@underbough/db'
import {
  addDays,
  type CivilDate,
  type OccupancyWord,
  type Rating,
  type TreeStatus,
  type VisitLevel,
} from '@underbough/model'
import type { DueDecision, DueVisit, EventKind } from '@underbough/rating'
import { and, arrayOverlaps, desc, eq, inArray, type SQL, sql } from 'drizzle-orm'
import type { AnyPgColumn } from 'drizzle-orm/pg-core'

import { near } from '../geometry/near.ts'

const { crew, daySheet, rating, tree, treeEvent, treeMark, treeState, visit, walkOver, work, zone, policy } =
  tables

const among = (column: AnyPgColumn, treeIds: string[] | null): SQL | undefined =>
  treeIds ? inArray(column, treeIds) : undefined

export interface DueTree {
  id: string
  status: TreeStatus
  enteredOn: CivilDate
  stemDiameterCm: number | null
  baselineShare: number | null
  zoneUse: OccupancyWord | null
}

/** Trees with the use of the heaviest zone within the tree's own height of it (geodesic; 15 m where no height is known). */
export async function dueTrees(
  session: Session,
  organisationId: string,
  treeIds: string[] | null,
): Promise<DueTree[]> {
  const use = sql<OccupancyWord | null>`(
    select (array['rare','occasional','frequent','constant'])[max(array_position(array['rare','occasional','frequent','constant'], z.occupancy_word))]
    from ${zone} z
    where z.organisation_id = ${tree.organisationId}
      and ${near(sql`z.geometry`, sql`${tree.position}`, sql`coalesce(${tree.heightM}, 15)`)})`
  return session
    .select({
      id: tree.id,
      status: tree.status,
      enteredOn: tree.enteredOn,
      stemDiameterCm: tree.stemDiameterCm,
      baselineShare: treeState.baselineShare,
      zoneUse: use,
    })
    .from(tree)
    .leftJoin(
      treeState,
      and(eq(treeState.organisationId, tree.organisationId), eq(treeState.treeId, tree.id)),
    )
    .where(and(eq(tree.organisationId, organisationId), among(tree.id, treeIds)))
    .orderBy(tree.id)
}

/** What the due date of a tree follows from that is no record of its own. */
export async function dueBasisOf(session: Session, organisationId: string, treeId: string) {
  const { enteredOn, zoneUse, baselineShare } = (await dueTrees(session, organisationId, [treeId]))[0]!
  return { enteredOn, zoneUse, baselineShare }
}

/** Visits, and walk-overs as closed looks of level 1 at each tree they name. */
export async function dueLooks(
  session: Session,
  organisationId: string,
  treeIds: string[] | null,
  timeZone: string,
): Promise<DueLook[]> {
  const visits = await session
    .select({
      treeId: visit.treeId,
      on: sql<CivilDate>`(${visit.startedAt} at time zone ${timeZone})::date::text`,
      level: sql<VisitLevel>`${visit.level}`,
      closed: sql<boolean>`${visit.stage} = 'closed'`,
    })
    .from(visit)
    .where(and(eq(visit.organisationId, organisationId), among(visit.treeId, treeIds)))
  const walks = await session
    .select({ on: walkOver.on, treeIds: walkOver.treeIds })
    .from(walkOver)
    .where(
      and(
        eq(walkOver.organisationId, organisationId),
        treeIds ? arrayOverlaps(walkOver.treeIds, treeIds) : undefined,
      ),
    )
  const asked = treeIds && new Set(treeIds)
  const walked = walks.flatMap((walk) =>
    walk.treeIds
      .filter((treeId) => !asked || asked.has(treeId))
      .map((treeId): DueLook => ({ treeId, on: walk.on, level: 1, closed: true, walkOver: true })),
  )
  return [...visits.map((row) => ({ ...row, walkOver: false })), ...walked]
}

export interface DueLook extends DueVisit {
  treeId: string
  walkOver: boolean
}

export async function dueRatings(session: Session, organisationId: string, treeIds: string[] | null) {
  return session
    .select()
    .from(rating)
    .where(and(eq(rating.organisationId, organisationId), among(rating.treeId, treeIds)))
    .orderBy(desc(rating.ratedAt), desc(rating.id))
}

export async function dueWorks(
  session: Session,
  organisationId: string,
  treeIds: string[] | null,
  timeZone: string,
) {
  return session
    .select({
      treeId: work.treeId,
      kind: work.kind,
      state: work.state,
      dueOn: work.dueOn,
      doneOn: work.doneOn,
      residualRisk: work.residualRisk,
      proposedOn: sql<CivilDate | null>`(select (v.started_at at time zone ${timeZone})::date::text from ${visit} v where v.organisation_id = ${work.organisationId} and v.id = ${work.visitId})`,
    })
    .from(work)
    .where(and(eq(work.organisationId, organisationId), among(work.treeId, treeIds)))
}

export async function dueEvents(session: Session, organisationId: string, treeIds: string[] | null) {
  return session
    .select({
      treeId: treeEvent.treeId,
      on: treeEvent.on,
      kind: sql<EventKind>`${treeEvent.kind}`,
      lookWithinDays: treeEvent.lookWithinDays,
    })
    .from(treeEvent)
    .where(and(eq(treeEvent.organisationId, organisationId), among(treeEvent.treeId, treeIds)))
}

/** The use of the named zones, or of all (`null`). */
export async function zoneWords(session: Session, organisationId: string, zoneIds: string[] | null) {
  const rows = await session
    .select({ id: zone.id, word: zone.occupancyWord })
    .from(zone)
    .where(and(eq(zone.organisationId, organisationId), zoneIds ? inArray(zone.id, zoneIds) : undefined))
  return new Map(rows.map((row) => [row.id, row.word]))
}

export async function newestPolicy(session: Session, organisationId: string) {
  const [row] = await session
    .select({ content: policy.content })
    .from(policy)
    .where(eq(policy.organisationId, organisationId))
    .orderBy(desc(policy.madeAt))
    .limit(1)
  return row?.content
}

export interface TreeStateRow {
  treeId: string
  risk: Rating['risk'] | null
  seen: boolean
  lastVisitOn: CivilDate | null
  ratingOpen: boolean
  baselineShare: number | null
  due: DueDecision | null
}

/** Replaces what follows from the records of these trees. */
export async function storeStates(session: Session, organisationId: string, rows: TreeStateRow[]) {
  for (let at = 0; at < rows.length; at += 1000)
    await session
      .insert(treeState)
      .values(
        rows.slice(at, at + 1000).map(({ due, ...row }) => ({
          organisationId,
          ...row,
          dueOn: due?.on ?? null,
          dueKind: due?.kind ?? null,
          dueLevel: due?.level ?? null,
          dueReason: due?.reason ?? null,
          lookOn: due?.lookOn ?? null,
          outOfSeason: due?.outOfSeason ?? false,
          dueParts: due?.parts ?? null,
          policyEdition: due?.policyEdition ?? null,
        })),
      )
      .onConflictDoUpdate({
        target: [treeState.organisationId, treeState.treeId],
        set: Object.fromEntries(
          [
            'risk',
            'seen',
            'last_visit_on',
            'rating_open',
            'baseline_share',
            'due_on',
            'due_kind',
            'due_level',
            'due_reason',
            'look_on',
            'out_of_season',
            'due_parts',
            'policy_edition',
          ]
            .map((name) => [camel(name), sql.raw(`excluded.${name}`)])
            .concat([['computedAt', sql`now()`]]),
        ),
      })
}

const camel = (name: string) => name.replace(/_(\w)/g, (_, letter: string) => letter.toUpperCase())

/** Looks due by day and risk until `last`, the mean minutes of one, and the days already sent to crews. */
export async function dueDays(
  session: Session,
  organisationId: string,
  /** What a tree's mark must meet to be counted; null counts all. */
  passes: SQL | null,
  last: CivilDate,
  from: CivilDate,
  minutesOf: (level: VisitLevel) => number,
) {
  const rows = await session
    .select({
      on: sql<CivilDate>`${treeState.dueOn}`,
      risk: treeState.risk,
      level: sql<VisitLevel>`coalesce(${treeState.dueLevel}, 2)`,
      count: sql<number>`count(*)::int`,
    })
    .from(treeState)
    .where(
      and(
        eq(treeState.organisationId, organisationId),
        sql`${treeState.dueOn} <= ${last}`,
        passes
          ? sql`exists (select from ${treeMark} m where m.organisation_id = ${organisationId} and m.tree_id = ${treeState.treeId} and ${passes})`
          : undefined,
      ),
    )
    .groupBy(treeState.dueOn, treeState.risk, treeState.dueLevel)
  const rounds = (await session.execute(sql`
    select c.id as "crewId", c.letter, min(d.date)::text as "from", max(d.date)::text as "to"
    from ${daySheet} d join ${crew} c on c.organisation_id = d.organisation_id and c.id = d.crew_id
    where d.organisation_id = ${organisationId} and d.published_at is not null and d.date >= ${from}
    group by c.id, c.letter order by c.letter`)) as unknown as {
    crewId: string
    letter: string
    from: string
    to: string
  }[]
  const total = rows.reduce((sum, row) => sum + row.count, 0)
  const minutes = rows.reduce((sum, row) => sum + row.count * minutesOf(row.level), 0)
  return { days: rows, meanLevelMinutes: total > 0 ? minutes / total : minutesOf(2), rounds: [...rounds] }
}

/** Minutes all crews can work in a week, by the week's Monday: their hours less breaks and days off. */
export async function capacityMinutes(
  session: Session,
  organisationId: string,
): Promise<(monday: CivilDate) => number> {
  const crews = await session
    .select({ hours: crew.hours, daysOff: crew.daysOff, breakMinutes: crew.breakMinutes })
    .from(crew)
    .where(eq(crew.organisationId, organisationId))
  return (monday) =>
    crews.reduce(
      (sum, { hours, daysOff, breakMinutes }) =>
        sum +
        hours.reduce(
          (of, day, i) =>
            of +
            (day && !daysOff.includes(addDays(monday, i))
              ? Math.max(0, day.toMinute - day.fromMinute - breakMinutes)
              : 0),
          0,
        ),
      0,
    )
}
