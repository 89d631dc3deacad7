import { type Session, tables } from '@underbough/db'
import type { AreaGeometry } from '@underbough/model'
import { and, eq, type SQL, sql } from 'drizzle-orm'

const { exposure, exposureZone, site, tree, treeMark, zone } = tables

/** Trees of one square of the map (its level and its number among those of the level, as in tree_mark), or by their identifiers. */
export type Which = { level: number; place: number } | { treeIds: readonly string[] }

/** Degrees west, south, east, north. */
export type Box = readonly [number, number, number, number]

/** Bits of a place beyond those that say in which square of a level it lies. */
const bitsBelow = (level: number) => BigInt(2 * (30 - level))
/** Who writes figures of trees in one square of this level waits for who else does. */
export const LOCK_LEVEL = 14

const chosen = (organisationId: string, which: Which): SQL =>
  'treeIds' in which
    ? sql`m.organisation_id = ${organisationId} and m.tree_id in (
        select value::uuid from json_array_elements_text(${JSON.stringify(which.treeIds)}::json))`
    : sql`m.organisation_id = ${organisationId}
        and m.place >= ${(BigInt(which.place) << bitsBelow(which.level)).toString()}::bigint
        and m.place < ${(BigInt(which.place + 1) << bitsBelow(which.level)).toString()}::bigint`

/** A number that changes when any of the rows was changed, came or went. */
const markOf = (row: string) =>
  sql.raw(`coalesce(bit_xor(hashtextextended(${row}.id::text, ${row}.version)), 0)::text || '/' || count(*)`)

/** Rows as one JSON text, for the thread that works on them, with the mark of what was read. */
interface Read extends Record<string, unknown> {
  rows: string
  mark: string
}

/** What exposure asks of trees' records: arrays in the order of `TreeFacts`. `locks` names the squares they lie in. */
export async function readTrees(session: Session, organisationId: string, which: Which) {
  const [read] = await session.execute<Read & { locks: string[] }>(sql`
    select coalesce(json_agg(json_build_array(t.id, ST_X(t.position), ST_Y(t.position), t.status, t.height_m, t.stems,
        t.crown_base_height_m, t.crown_radii_m, t.lean, t.clearing_bearing_deg, t.slope, t.dead_or_brittle, t.site_id,
        e.inputs_digest) order by m.place, t.id), '[]')::text as rows,
      ${markOf('t')} as mark,
      coalesce(json_agg(distinct (m.place >> ${sql.raw(String(bitsBelow(LOCK_LEVEL)))})::text), '[]') as locks
    from ${treeMark} m
    join ${tree} t on t.organisation_id = m.organisation_id and t.id = m.tree_id
    left join ${exposure} e on e.organisation_id = m.organisation_id and e.tree_id = m.tree_id
    where ${chosen(organisationId, which)}`)
  return read!
}

/** Zones that meet any of the boxes: arrays in the order of `ZoneFacts`. */
export async function readZones(
  session: Session,
  organisationId: string,
  boxes: readonly Box[],
): Promise<Read> {
  const [read] = await session.execute<Read>(sql`
    select coalesce(json_agg(json_build_array(z.id, encode(ST_AsBinary(z.geometry), 'hex'), z.area_m2, z.static_target,
        z.shelter_height_m, z.shelter_class, z.part_of, z.group_size, z.occupancy, z.seasons) order by z.id), '[]')::text as rows,
      ${markOf('z')} as mark
    from ${meeting(organisationId, boxes)} z`)
  return read!
}

/** Found by their boxes and never joined again: the planner takes the boxes for a hundred and reads the whole table. */
const meeting = (organisationId: string, boxes: readonly Box[]) => sql`(
  select distinct on (z.id) z.* from json_array_elements(${JSON.stringify(boxes)}::json) b
  join ${zone} z on z.organisation_id = ${organisationId} and z.geometry && ST_MakeEnvelope(
    (b->>0)::float8, (b->>1)::float8, (b->>2)::float8, (b->>3)::float8, 4326))`

/** The marks of the same trees and zones as they stand now. */
export async function marksNow(
  session: Session,
  organisationId: string,
  which: Which,
  boxes: readonly Box[],
): Promise<{ trees: string; zones: string }> {
  const [row] = await session.execute<{ trees: string; zones: string }>(sql`
    select (select ${markOf('t')} from ${treeMark} m
        join ${tree} t on t.organisation_id = m.organisation_id and t.id = m.tree_id
        where ${chosen(organisationId, which)}) as trees,
      (select ${markOf('z')} from ${meeting(organisationId, boxes)} z) as zones`)
  return row!
}

/** Where strong gusts come from, by site. */
export async function windRoses(session: Session, organisationId: string): Promise<Record<string, number[]>> {
  const rows = await session
    .select({ id: site.id, rose: site.windRose })
    .from(site)
    .where(and(eq(site.organisationId, organisationId), sql`${site.windRose} is not null`))
  return Object.fromEntries(rows.map(({ id, rose }) => [id, rose!]))
}

/** Holds the squares until the transaction ends. */
export async function lockSquares(session: Session, organisationId: string, squares: readonly string[]) {
  for (const square of squares.toSorted())
    await session.execute(
      sql`select pg_advisory_xact_lock(hashtextextended(${`exposure ${organisationId} ${square}`}, 0))`,
    )
}

export async function deleteFigures(session: Session, organisationId: string, treeIds: readonly string[]) {
  const given = sql`(select value::uuid from json_array_elements_text(${JSON.stringify(treeIds)}::json))`
  for (const table of [exposureZone, exposure])
    await session.execute(
      sql`delete from ${table} where organisation_id = ${organisationId} and tree_id in ${given}`,
    )
}

/** Writes rows given as JSON objects: for the database that takes no bulk copy. */
export async function insertFigures(
  session: Session,
  table: 'exposure' | 'exposure_zone',
  columns: string,
  rows: string,
) {
  const into = sql.raw(table)
  await session.execute(sql`
    insert into ${into} (${sql.raw(columns)})
    select ${sql.raw(columns)} from json_populate_recordset(null::${into}, ${rows}::json)`)
}

/** The identifiers in the order of their places on the map, so that neighbours come together. Those without a tree drop out. */
export async function byPlace(
  session: Session,
  organisationId: string,
  treeIds: readonly string[],
): Promise<string[]> {
  const rows = await session.execute<{ id: string }>(
    sql`select m.tree_id as id from ${treeMark} m where ${chosen(organisationId, { treeIds })} order by m.place, m.tree_id`,
  )
  return rows.map((row) => row.id)
}

export async function storedExposure(session: Session, organisationId: string, treeId: string) {
  const [row] = await session
    .select()
    .from(exposure)
    .where(and(eq(exposure.organisationId, organisationId), eq(exposure.treeId, treeId)))
  if (!row) return null
  const zones = await session
    .select({
      row: exposureZone,
      name: zone.name,
      kind: zone.kind,
      geometry: sql<AreaGeometry>`ST_AsGeoJSON(${zone.geometry}, 7)::json`,
    })
    .from(exposureZone)
    .innerJoin(
      zone,
      and(eq(zone.organisationId, exposureZone.organisationId), eq(zone.id, exposureZone.zoneId)),
    )
    .where(and(eq(exposureZone.organisationId, organisationId), eq(exposureZone.treeId, treeId)))
  return { row, zones }
}
