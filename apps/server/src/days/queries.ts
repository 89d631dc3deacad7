import { type Session, tables } from '@underbough/db'
import type { CivilDate, Position } from '@underbough/model'
import { and, asc, desc, eq, inArray, ne, sql, sum } from 'drizzle-orm'
import { asGeometry } from '../geometry/queries.ts'
import type { TreeAlong } from './along.ts'

const { daySheet, exposureZone, finding, photo, probe, stop, tree, treeState, visit } = tables

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

/** The zones that these trees bear most upon, at most `most` of them: those that a crew on its way may walk over. */
export async function zonesUnder(
  session: Session,
  organisationId: string,
  treeIds: readonly string[],
  most: number,
): Promise<string[]> {
  if (treeIds.length === 0) return []
  const rows = await session
    .select({ zoneId: exposureZone.zoneId })
    .from(exposureZone)
    .where(and(eq(exposureZone.organisationId, organisationId), inArray(exposureZone.treeId, [...treeIds])))
    .groupBy(exposureZone.zoneId)
    .orderBy(desc(sum(exposureZone.people)), asc(exposureZone.zoneId))
    .limit(most)
  return rows.map((row) => row.zoneId)
}

/** Number of target zones: their list grows with it. */
export async function zoneCount(session: Session, organisationId: string): Promise<number> {
  return session.$count(tables.zone, sql`organisation_id = ${organisationId}`)
}

const along = (organisationId: string, way: readonly Position[], withinM: number) =>
  and(
    eq(tree.organisationId, organisationId),
    ne(tree.status, 'gone'),
    sql`ST_DWithin((${tree.position})::geography, (${asGeometry({ type: 'LineString', coordinates: way })})::geography, ${withinM})`,
  )

/** Trees within `withinM` metres of a way of two places or more, on the ellipsoid, in order of tag; those that are gone are left out. */
export function treesAlong(
  session: Session,
  organisationId: string,
  way: readonly Position[],
  withinM: number,
): Promise<TreeAlong[]> {
  const ofTree = and(eq(treeState.organisationId, tree.organisationId), eq(treeState.treeId, tree.id))
  return session
    .select({
      id: tree.id,
      tag: tree.tag,
      species: tree.species,
      commonName: tree.commonName,
      position: sql<Position>`json_build_array(round(ST_X(${tree.position})::numeric, 6), round(ST_Y(${tree.position})::numeric, 6))`,
      status: tree.status,
      risk: treeState.risk,
      seen: sql<boolean>`coalesce(${treeState.seen}, false)`,
      dueOn: treeState.dueOn,
    })
    .from(tree)
    .leftJoin(treeState, ofTree)
    .where(along(organisationId, way, withinM))
    .orderBy(asc(tree.tag), asc(tree.id))
}
/** How many trees `treesAlong` would find. */
export const countAlong = (
  session: Session,
  organisationId: string,
  way: readonly Position[],
  withinM: number,
): Promise<number> => session.$count(tree, along(organisationId, way, withinM))

const list = (ids: readonly string[]) =>
  sql`(${sql.join(
    ids.map((id) => sql`${id}`),
    sql`, `,
  )})`
