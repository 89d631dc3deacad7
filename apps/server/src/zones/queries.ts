import { type Session, tables } from '@underbough/db'
import type { RiskWord, Zone, ZoneInput } from '@underbough/model'
import { and, count, desc, eq, type SQL, sql } from 'drizzle-orm'
import { near } from '../geometry/near.ts'
import { asGeometry, geojson } from '../geometry/queries.ts'

const { zone, walkOver, exposure, exposureZone, tree, treeState } = tables

const fields = {
  id: zone.id,
  siteId: zone.siteId,
  name: zone.name,
  kind: zone.kind,
  fromLine: zone.fromLine,
  areaM2: zone.areaM2,
  occupancyWord: zone.occupancyWord,
  occupancy: zone.occupancy,
  seasons: zone.seasons,
  groupSize: zone.groupSize,
  staticTarget: zone.staticTarget,
  shelterHeightM: zone.shelterHeightM,
  shelterClass: zone.shelterClass,
  valueAtStake: zone.valueAtStake,
  partOf: zone.partOf,
  note: zone.note,
  version: zone.version,
  createdAt: zone.createdAt,
  updatedAt: zone.updatedAt,
}
const one = (organisationId: string, id: string) =>
  and(eq(zone.organisationId, organisationId), eq(zone.id, id))

export type ZoneWithoutGeometry = Omit<Zone, 'geometry'>

export async function allZones(session: Session, organisationId: string): Promise<ZoneWithoutGeometry[]> {
  return session
    .select(fields)
    .from(zone)
    .where(eq(zone.organisationId, organisationId))
    .orderBy(zone.name, zone.id)
}

export async function zoneById(
  session: Session,
  organisationId: string,
  id: string,
): Promise<Zone | undefined> {
  const [row] = await session
    .select({ ...fields, geometry: geojson<Zone['geometry']>(zone.geometry) })
    .from(zone)
    .where(one(organisationId, id))
  return row
}

/** Zones within metres of a tree, with their outlines, by name. */
export async function zonesNearTree(
  session: Session,
  organisationId: string,
  treeId: string,
  withinM: number,
): Promise<Zone[]> {
  return session
    .select({ ...fields, geometry: geojson<Zone['geometry']>(zone.geometry) })
    .from(zone)
    .innerJoin(tree, and(eq(tree.organisationId, zone.organisationId), eq(tree.id, treeId)))
    .where(
      and(
        eq(zone.organisationId, organisationId),
        near(sql`${zone.geometry}`, sql`${tree.position}`, sql`${withinM}::float8`),
      ),
    )
    .orderBy(zone.name, zone.id)
}

/** The larger zone that a zone is part of; undefined when there is no such zone. */
export async function partOfZone(session: Session, organisationId: string, id: string) {
  const [row] = await session.select({ partOf: zone.partOf }).from(zone).where(one(organisationId, id))
  return row
}

export async function insertZone(
  session: Session,
  organisationId: string,
  id: string,
  input: ZoneInput & { areaM2: number },
) {
  await session.insert(zone).values({ organisationId, id, ...input })
}

/** False when the stored version is another one. */
export async function updateZone(
  session: Session,
  organisationId: string,
  id: string,
  version: number,
  input: ZoneInput & { areaM2: number },
): Promise<boolean> {
  const rows = await session
    .update(zone)
    .set({ ...input, version: version + 1, updatedAt: sql`now()` as never })
    .where(and(one(organisationId, id), eq(zone.version, version)))
    .returning({ id: zone.id })
  return rows.length > 0
}

export async function deleteZone(session: Session, organisationId: string, id: string) {
  await session
    .delete(exposureZone)
    .where(and(eq(exposureZone.organisationId, organisationId), eq(exposureZone.zoneId, id)))
  await session.delete(zone).where(one(organisationId, id))
}

/** Records that would lose their place with the zone. */
export async function standingOn(session: Session, organisationId: string, id: string) {
  const [parts, walkOvers] = [
    await session.$count(zone, and(eq(zone.organisationId, organisationId), eq(zone.partOf, id))),
    await session.$count(walkOver, and(eq(walkOver.organisationId, organisationId), eq(walkOver.zoneId, id))),
  ]
  return { parts, walkOvers }
}

/** Trees whose fall may meet the zone, the one that bears most first. */
export async function treesOver(session: Session, organisationId: string, zoneId: string) {
  const same = and(eq(exposureZone.organisationId, organisationId), eq(exposureZone.zoneId, zoneId))
  const rows = await session
    .select({
      id: tree.id,
      tag: tree.tag,
      species: tree.species,
      commonName: tree.commonName,
      status: tree.status,
      risk: sql<RiskWord | null>`${treeState.risk}`,
      ratingOpen: sql<boolean>`coalesce(${treeState.ratingOpen}, false)`,
      people: exposureZone.people,
      least: exposureZone.peopleLeast,
      most: exposureZone.peopleMost,
      pTouch: exposureZone.pTouch,
      pAny: exposureZone.pAny,
      total: sql<number>`count(*) over ()::int`,
    })
    .from(exposureZone)
    .innerJoin(
      tree,
      and(eq(tree.organisationId, exposureZone.organisationId), eq(tree.id, exposureZone.treeId)),
    )
    .leftJoin(
      treeState,
      and(eq(treeState.organisationId, tree.organisationId), eq(treeState.treeId, tree.id)),
    )
    .where(same)
    .orderBy(desc(exposureZone.people), desc(exposureZone.pTouch), tree.id)
    .limit(200)
  return rows.map(({ people, least, most, total: _, ...row }) => ({
    ...row,
    people: { mean: people, least, most },
  }))
}

export async function countTreesOver(
  session: Session,
  organisationId: string,
  zoneId: string,
): Promise<number> {
  const [row] = await session
    .select({ n: count() })
    .from(exposureZone)
    .where(and(eq(exposureZone.organisationId, organisationId), eq(exposureZone.zoneId, zoneId)))
  return row!.n
}

/** Further than any tree of a town throws (Assumption: none is above 65 m, and dead wood flies at most three times as far). */
const FURTHEST_M = 195
const MOST_SCATTER = 3
/** How far a tree without figures may reach (Assumption). */
const UNKNOWN_REACH_M = 60

/** Trees whose fall, or what scatters from it, may reach the shape, each by its own reach (geodesic). */
export async function treeIdsNear(
  session: Session,
  organisationId: string,
  geometry: Zone['geometry'],
): Promise<string[]> {
  const shape = asGeometry(geometry)
  const rows = await session.execute<{ id: string }>(sql`
    select t.id from ${tree} t
    left join ${exposure} e on e.organisation_id = t.organisation_id and e.tree_id = t.id
    where t.organisation_id = ${organisationId}
      and ${near(sql`t.position`, shape, sql`${FURTHEST_M}::float8`)}
      and ST_DWithin(t.position::geography, ${shape}::geography, coalesce(e.reach_m * case when t.dead_or_brittle then ${MOST_SCATTER} else 1 end, ${UNKNOWN_REACH_M}) + 2)`)
  return rows.map((row) => row.id)
}

/**
 * Opens again the newest rating of every tree that names the zone as a target; the figures stay as they were.
 * Returns the trees.
 */
export async function reopenRatings(
  session: Session,
  organisationId: string,
  zoneId: string,
  because: string,
): Promise<string[]> {
  const named = sql`r.scenarios @> ${JSON.stringify([{ targets: [{ zoneId }] }])}::jsonb`
  return reopenWhere(session, organisationId, named, because)
}

/** The same for every rated tree that could reach the shape: one of its own height away, or `elseM` where that is unknown. */
export async function reopenRatingsInReach(
  session: Session,
  organisationId: string,
  geometry: Zone['geometry'],
  elseM: number,
  because: string,
): Promise<string[]> {
  const reaching = sql`r.tree_id in (
    select t.id from ${tree} t where t.organisation_id = ${organisationId}
      and ${near(sql`t.position`, asGeometry(geometry), sql`coalesce(t.height_m, ${elseM}::float8)`)})`
  return reopenWhere(session, organisationId, reaching, because)
}

async function reopenWhere(session: Session, organisationId: string, which: SQL, because: string) {
  const rows = await session.execute<{ id: string }>(sql`
    with reopened as (
      update rating r set reopened_because = concat_ws(' ', r.reopened_because, ${because}::text)
      where r.organisation_id = ${organisationId}
        and ${which}
        and r.id = (
          select newest.id from rating newest
          where newest.organisation_id = r.organisation_id and newest.tree_id = r.tree_id
          order by newest.rated_at desc, newest.id desc limit 1)
      returning r.tree_id
    ), marked as (
      update tree_state s set rating_open = true
      where s.organisation_id = ${organisationId} and s.tree_id in (select tree_id from reopened)
    )
    select tree_id as id from reopened`)
  return [...rows].map((row) => row.id)
}
