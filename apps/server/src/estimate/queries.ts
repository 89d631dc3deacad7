import { type Session, tables } from '@underbough/db'
import type { ZoneOnGround } from '@underbough/exposure'
import type { AreaGeometry, FailureWord, Position, Scenario, ZoneKind } from '@underbough/model'
import type { Span } from '@underbough/rating'
import { and, eq, inArray, type SQL, sql } from 'drizzle-orm'

const { exposure, exposureZone, rating, scenarioExposure, tree, work, zone } = tables

/** Yearly chance behind each word and time frame, as a table for SQL. */
export type YearlyChances = (Span & { failure: FailureWord; years: number })[]

/** A scenario that is not the whole tree any way it falls has people of its own: see `scenario_exposure`. */
const ofWholeTree = sql`(s->>'part' = 'whole-tree' and s->>'knownBearingDeg' is null)`

/** `newest`: the rating in force of every tree that stands; `part`: its scenarios, each with a key of its own. */
const parts = (organisationId: string, narrow: SQL = sql`true`) => sql`
  newest as (
    select distinct on (r.tree_id) r.tree_id, r.id, r.time_frame_years, r.scenarios
    from ${rating} r join ${tree} t on t.organisation_id = r.organisation_id and t.id = r.tree_id
    where r.organisation_id = ${organisationId} and t.status in ('standing', 'pole') and ${narrow}
    order by r.tree_id, r.rated_at desc, r.id desc
  ), part as (
    select n.tree_id, md5(n.id::text || (s->>'id'))::uuid as key, s->>'failure' as failure,
      n.time_frame_years as years, ${ofWholeTree} as whole, s as scenario
    from newest n cross join lateral jsonb_array_elements(n.scenarios) s
  )`

/** `met`: people within the outline of each scenario in each zone, given that it fails. */
const met = (organisationId: string) => sql`
  met as (
    select p.tree_id, p.key, p.failure, p.years, e.zone_id, e.people as mean, e.people_least as least, e.people_most as most
    from part p join ${exposureZone} e on e.organisation_id = ${organisationId} and e.tree_id = p.tree_id
    where p.whole
    union all
    select p.tree_id, p.key, p.failure, p.years, z."zoneId", z.mean, z.least, z.most
    from part p join ${scenarioExposure} x on x.organisation_id = ${organisationId} and x.scenario_id = p.key
      cross join lateral jsonb_to_recordset(x.zones) as z("zoneId" uuid, mean float8, least float8, most float8)
    where not p.whole
  )`

const chances = (of: YearlyChances) => sql`
  chance as (
    select * from json_to_recordset(${JSON.stringify(of)}::json)
      as c(failure text, years int, least float8, middle float8, most float8)
  )`

export interface ZoneExpected extends Span {
  [key: string]: unknown
  id: string
  name: string
  kind: ZoneKind
  place: Position
  trees: number
  /** The trees that bear most, the heaviest first. */
  worst: (Span & { treeId: string })[]
}

export interface ZoneFilter {
  siteId?: string
  kind?: ZoneKind
  limit: number
}

/** Zones by the people expected within an outline per year, the most first by the middle figure. Zones that nobody uses are left out. */
export async function zonesExpected(
  session: Session,
  organisationId: string,
  of: YearlyChances,
  worstTrees: number,
  { siteId, kind, limit }: ZoneFilter,
): Promise<ZoneExpected[]> {
  const rows = await session.execute<ZoneExpected>(sql`
    with ${parts(organisationId)}, ${met(organisationId)}, ${chances(of)}, by_tree as (
      select m.zone_id, m.tree_id, sum(c.least * m.least) as least, sum(c.middle * m.mean) as middle, sum(c.most * m.most) as most
      from met m join chance c on c.failure = m.failure and c.years = m.years
      group by m.zone_id, m.tree_id having sum(c.most * m.most) > 0
    ), by_zone as (
      select b.zone_id, sum(b.least) as least, sum(b.middle) as middle, sum(b.most) as most, count(*)::int as trees,
        (array_agg(json_build_object('treeId', b.tree_id, 'least', b.least, 'middle', b.middle, 'most', b.most)
          order by b.middle desc, b.tree_id))[1:${sql.raw(String(worstTrees))}] as worst
      from by_tree b group by b.zone_id
    )
    select z.id, z.name, z.kind, b.least, b.middle, b.most, b.trees, to_json(b.worst) as worst,
      (select json_build_array(ST_X(p), ST_Y(p)) from ST_PointOnSurface(z.geometry) p) as place
    from by_zone b join ${zone} z on z.organisation_id = ${organisationId} and z.id = b.zone_id
    where ${siteId ? sql`z.site_id = ${siteId}` : sql`true`} and ${kind ? sql`z.kind = ${kind}` : sql`true`}
    order by b.middle desc, z.name, z.id limit ${limit}`)
  return [...rows]
}

/** Everything expected per year over all zones, and how many trees that stand are in it and how many are not. */
export async function totalExpected(
  session: Session,
  organisationId: string,
  of: YearlyChances,
): Promise<Span & { rated: number; unrated: number }> {
  const [row] = await session.execute<{
    least: number
    middle: number
    most: number
    rated: number
    unrated: number
  }>(sql`
    with ${parts(organisationId)}, ${met(organisationId)}, ${chances(of)}, sum as (
      select coalesce(sum(c.least * m.least), 0) as least, coalesce(sum(c.middle * m.mean), 0) as middle,
        coalesce(sum(c.most * m.most), 0) as most
      from met m join chance c on c.failure = m.failure and c.years = m.years
    )
    select sum.*, (select count(*)::int from newest) as rated,
      (select count(*)::int from ${tree} t where t.organisation_id = ${organisationId} and t.status in ('standing', 'pole'))
        - (select count(*)::int from newest) as unrated
    from sum`)
  return row!
}

/** One scenario over one zone. */
export interface ScenarioLine {
  [key: string]: unknown
  treeId: string
  key: string
  failure: FailureWord
  timeFrameYears: number
  zoneId: string
  people: { mean: number; least: number; most: number }
}

const lines = sql`m.tree_id as "treeId", m.key, m.failure, m.years as "timeFrameYears", m.zone_id as "zoneId",
  json_build_object('mean', m.mean, 'least', m.least, 'most', m.most) as people`

/** Scenarios of one tree over the zones they meet. */
export async function linesOfTree(session: Session, organisationId: string, treeId: string) {
  return [
    ...(await session.execute<ScenarioLine>(sql`
      with ${parts(organisationId, sql`r.tree_id = ${treeId}`)}, ${met(organisationId)} select ${lines} from met m`)),
  ]
}

/** Scenarios of all trees over some zones. */
export async function linesOfZones(session: Session, organisationId: string, zoneIds: string[]) {
  if (zoneIds.length === 0) return []
  const ids = sql`(select value::uuid from json_array_elements_text(${JSON.stringify(zoneIds)}::json))`
  const near = sql`(r.tree_id in (select e.tree_id from ${exposureZone} e where e.organisation_id = ${organisationId} and e.zone_id in ${ids})
    or r.tree_id in (select x.tree_id from ${scenarioExposure} x cross join lateral jsonb_to_recordset(x.zones) as z("zoneId" uuid)
      where x.organisation_id = ${organisationId} and z."zoneId" in ${ids}))`
  return [
    ...(await session.execute<ScenarioLine>(sql`
      with ${parts(organisationId, near)}, ${met(organisationId)} select ${lines} from met m where m.zone_id in ${ids}`)),
  ]
}

/** A scenario in force, by its key. */
export interface ScenarioInForce {
  [key: string]: unknown
  treeId: string
  key: string
  scenario: Scenario
  timeFrameYears: number
}
export async function scenariosInForce(session: Session, organisationId: string, treeId: string) {
  return [
    ...(await session.execute<ScenarioInForce>(sql`
      with ${parts(organisationId, sql`r.tree_id = ${treeId}`)}
      select p.tree_id as "treeId", p.key, p.scenario, p.years as "timeFrameYears" from part p`)),
  ]
}

/** A scenario whose people are not known for what the tree's exposure now follows from. */
export interface StaleScenario {
  [key: string]: unknown
  treeId: string
  key: string
  scenario: Scenario
  inputsDigest: string
}

/** `stale`: of one tree, or of those whose identifier comes after another. */
const stale = (organisationId: string, narrow: SQL) => sql`
  with ${parts(organisationId, narrow)}, stale as (
    select p.tree_id, p.key, p.scenario, e.inputs_digest
    from part p
    join ${exposure} e on e.organisation_id = ${organisationId} and e.tree_id = p.tree_id
    left join ${scenarioExposure} x on x.organisation_id = ${organisationId} and x.scenario_id = p.key
    where not p.whole and x.inputs_digest is distinct from e.inputs_digest
  )`

const ofStale = sql`s.tree_id as "treeId", s.key, s.scenario, s.inputs_digest as "inputsDigest"`

export async function staleOfTree(session: Session, organisationId: string, treeId: string) {
  return [
    ...(await session.execute<StaleScenario>(
      sql`${stale(organisationId, sql`r.tree_id = ${treeId}`)} select ${ofStale} from stale s`,
    )),
  ]
}

/** Up to `limit` of all trees after one, in the order of their trees; from the first where `afterTreeId` is null. */
export async function staleAfter(
  session: Session,
  organisationId: string,
  afterTreeId: string | null,
  limit: number,
) {
  const narrow = afterTreeId ? sql`r.tree_id > ${afterTreeId}` : sql`true`
  return [
    ...(await session.execute<StaleScenario>(
      sql`${stale(organisationId, narrow)} select ${ofStale} from stale s order by s.tree_id limit ${limit}`,
    )),
  ]
}

export async function countStale(session: Session, organisationId: string): Promise<number> {
  const [row] = await session.execute<{ total: number }>(
    sql`${stale(organisationId, sql`true`)} select count(*)::int as total from stale`,
  )
  return row!.total
}

export interface ScenarioPeople {
  key: string
  treeId: string
  inputsDigest: string
  zones: { zoneId: string; mean: number; least: number; most: number }[]
}

/** Puts the people under scenarios in the place of older figures. */
export async function storeScenarios(session: Session, organisationId: string, rows: ScenarioPeople[]) {
  if (rows.length === 0) return
  await session
    .insert(scenarioExposure)
    .values(
      rows.map(({ key, treeId, inputsDigest, zones }) => ({
        organisationId,
        scenarioId: key,
        treeId,
        zones,
        inputsDigest,
      })),
    )
    .onConflictDoUpdate({
      target: [scenarioExposure.organisationId, scenarioExposure.scenarioId],
      set: {
        treeId: sql`excluded.tree_id`,
        zones: sql`excluded.zones`,
        inputsDigest: sql`excluded.inputs_digest`,
      },
    })
}

/** Trees of these on which work was done after the rating in force. */
export async function workedOnSince(
  session: Session,
  organisationId: string,
  treeId: string,
): Promise<boolean> {
  const [row] = await session.execute<{ since: boolean }>(sql`
    with ${parts(organisationId, sql`r.tree_id = ${treeId}`)}
    select exists(
      select 1 from newest n
      join ${rating} r on r.organisation_id = ${organisationId} and r.id = n.id
      join ${work} w on w.organisation_id = ${organisationId} and w.tree_id = n.tree_id
      where w.state = 'done' and w.kind in ('prune', 'reduce', 'remove', 'brace') and w.done_on > r.rated_at::date) as since`)
  return row!.since
}

export async function zoneNames(session: Session, organisationId: string, ids: string[]) {
  if (ids.length === 0) return []
  return session
    .select({ id: zone.id, name: zone.name, kind: zone.kind })
    .from(zone)
    .where(and(eq(zone.organisationId, organisationId), inArray(zone.id, ids)))
}

/** What the hours of some zones follow from. */
export async function zonesOnGround(
  session: Session,
  organisationId: string,
  ids: string[],
): Promise<ZoneOnGround[]> {
  if (ids.length === 0) return []
  return session
    .select({
      id: zone.id,
      geometry: sql<AreaGeometry>`ST_AsGeoJSON(${zone.geometry})::json`,
      areaM2: zone.areaM2,
      occupancy: zone.occupancy,
      seasons: zone.seasons,
      groupSize: zone.groupSize,
      staticTarget: zone.staticTarget,
      partOf: zone.partOf,
    })
    .from(zone)
    .where(and(eq(zone.organisationId, organisationId), inArray(zone.id, ids)))
}
