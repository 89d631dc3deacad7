import { type Session, tables } from '@underbough/db'
import type { CivilDate } from '@underbough/model'
import { sql } from 'drizzle-orm'

const { daySheet, finding, photo, probe, stop, visit } = tables

/** Issued days of these crews from one date to another, both taken in, with the number of trees. */
export async function issuedDays(
  session: Session,
  organisationId: string,
  crewIds: readonly string[],
  from: CivilDate,
  until: CivilDate,
): Promise<{ date: CivilDate; trees: number }[]> {
  if (crewIds.length === 0) return []
  const rows = await session.execute<{ date: CivilDate; trees: number }>(sql`
    select d.date::text as date, count(s.id)::int as trees
    from ${daySheet} d left join ${stop} s on s.organisation_id = d.organisation_id and s.day_sheet_id = d.id
    where d.organisation_id = ${organisationId} and d.published_at is not null
      and d.crew_id in ${list(crewIds)} and d.date between ${from} and ${until}
    group by d.date order by d.date`)
  return [...rows]
}

export interface PhotoOfTree {
  treeId: string
  id: string
  bytes: number
  copyOf: string | null
  copyKind: 'screen' | 'marked' | null
}
/** Photos of trees, their visits, findings and readings, the newest of each tree first. */
export async function photosOfTrees(
  session: Session,
  organisationId: string,
  treeIds: readonly string[],
): Promise<PhotoOfTree[]> {
  if (treeIds.length === 0) return []
  const ids = list(treeIds)
  const rows = await session.execute<PhotoOfTree & Record<string, unknown>>(sql`
    with owner as (
      select id as owner_id, tree_id from ${visit} where organisation_id = ${organisationId} and tree_id in ${ids}
      union all select id, tree_id from ${finding} where organisation_id = ${organisationId} and tree_id in ${ids}
      union all select p.id, v.tree_id from ${probe} p join ${visit} v on v.organisation_id = p.organisation_id and v.id = p.visit_id
        where p.organisation_id = ${organisationId} and v.tree_id in ${ids}
      union all select id, id from tree where organisation_id = ${organisationId} and id in ${ids}
    )
    select o.tree_id as "treeId", p.id, p.bytes, p.copy_of as "copyOf", p.copy_kind as "copyKind"
    from ${photo} p join owner o on o.owner_id = p.owner_id
    where p.organisation_id = ${organisationId}
    order by o.tree_id, p.taken_at desc nulls last, p.id`)
  return [...rows]
}

/** Number of target zones: their list grows with it. */
export async function zoneCount(session: Session, organisationId: string): Promise<number> {
  return session.$count(tables.zone, sql`organisation_id = ${organisationId}`)
}

const list = (ids: readonly string[]) =>
  sql`(${sql.join(
    ids.map((id) => sql`${id}`),
    sql`, `,
  )})`
