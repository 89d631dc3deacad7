import { type Session, tables } from '@underbough/db'
import type { CivilDate, FailureWord } from '@underbough/model'
import type { OwnRecord } from '@underbough/rating'
import { and, asc, desc, eq, gte, sql } from 'drizzle-orm'

const { authUser, estimateDecision, failure, rating, tree, work } = tables

export interface DecisionRow {
  number: number
  switchedOn: boolean
  text: string
  content: unknown
  madeBy: string
  madeAt: string
}

const SHOWN_DECISIONS = 100

/** Decisions, the newest first, with the name of who made each. */
export async function decisions(
  session: Session,
  organisationId: string,
  limit = SHOWN_DECISIONS,
): Promise<DecisionRow[]> {
  return session
    .select({
      number: estimateDecision.number,
      switchedOn: estimateDecision.switchedOn,
      text: estimateDecision.text,
      content: estimateDecision.content,
      madeBy: sql<string>`coalesce(${authUser.name}, '')`,
      madeAt: estimateDecision.madeAt,
    })
    .from(estimateDecision)
    .leftJoin(authUser, eq(authUser.id, estimateDecision.madeBy))
    .where(eq(estimateDecision.organisationId, organisationId))
    .orderBy(desc(estimateDecision.number))
    .limit(limit)
}

/** Adds the decision after `number`; false where somebody else made it first. */
export async function insertDecision(
  session: Session,
  row: typeof estimateDecision.$inferInsert,
): Promise<boolean> {
  const rows = await session
    .insert(estimateDecision)
    .values(row)
    .onConflictDoNothing()
    .returning({ number: estimateDecision.number })
  return rows.length > 0
}

/** The day of the first failure on record; null without any. */
export async function firstFailureOn(session: Session, organisationId: string): Promise<CivilDate | null> {
  const [row] = await session
    .select({ on: failure.on })
    .from(failure)
    .where(eq(failure.organisationId, organisationId))
    .orderBy(asc(failure.on))
    .limit(1)
  return row?.on ?? null
}

export const countFailures = (session: Session, organisationId: string, since: CivilDate) =>
  session.$count(failure, and(eq(failure.organisationId, organisationId), gte(failure.on, since)))

/**
 * What the organisation's own records say from `since` until today: years that each word stood at a tree, and failures of
 * those trees meanwhile. A rating stands from its day to the next one, to work on the tree, or until the tree is gone.
 * Failures and near misses count alike: something came down. Civil dates in the organisation's time zone.
 */
export async function ownRecord(
  session: Session,
  organisationId: string,
  timeZone: string,
  since: CivilDate,
  today: CivilDate,
): Promise<OwnRecord> {
  const standing = sql`
    rated as (
      select r.tree_id, r.time_frame_years, r.scenarios, (r.rated_at at time zone ${timeZone})::date as rated_on,
        lead((r.rated_at at time zone ${timeZone})::date) over (partition by r.tree_id order by r.rated_at, r.id) as next_on,
        case when t.status in ('gone', 'stump') then coalesce(t.gone_on, (t.updated_at at time zone ${timeZone})::date) end as gone_on
      from ${rating} r join ${tree} t on t.organisation_id = r.organisation_id and t.id = r.tree_id
      where r.organisation_id = ${organisationId}
    ), stood as (
      select r.*, greatest(r.rated_on, ${since}::date) as from_on,
        least(${today}::date, r.next_on, r.gone_on, (
          select min(w.done_on) from ${work} w
          where w.organisation_id = ${organisationId} and w.tree_id = r.tree_id and w.state = 'done'
            and w.kind in ('prune', 'reduce', 'remove', 'brace') and w.done_on > r.rated_on)) as until_on
      from rated r
    )`
  const words = await session.execute<{ failure: FailureWord; timeFrameYears: number; years: number }>(sql`
    with ${standing}
    select s->>'failure' as failure, time_frame_years as "timeFrameYears", sum(until_on - from_on) / 365.25::float8 as years
    from stood cross join lateral jsonb_array_elements(scenarios) s
    where until_on > from_on group by 1, 2 order by 1, 2`)
  const [counted] = await session.execute<{ treeYears: number; failures: number; allFailures: number }>(sql`
    with ${standing}
    select
      coalesce((select sum(until_on - from_on) from stood where until_on > from_on), 0) / 365.25::float8 as "treeYears",
      (select count(distinct f.id)::int from ${failure} f
        join stood s on s.tree_id = f.tree_id and f."on" > s.rated_on and f."on" >= s.from_on and f."on" <= s.until_on
        where f.organisation_id = ${organisationId}) as failures,
      (select count(*)::int from ${failure} f where f.organisation_id = ${organisationId} and f."on" >= ${since}::date) as "allFailures"`)
  return { atRisk: [...words], ...counted! }
}
