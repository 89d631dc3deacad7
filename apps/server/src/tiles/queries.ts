import { type Session, tables } from '@underbough/db'
import type { GroundGeometry, Position, TreeStatus } from '@underbough/model'
import { sql } from 'drizzle-orm'

const { groundFeature, site, tree, treeState, zone } = tables

/** Where and when a tile is asked for. `now` and the organisation's time zone decide what is overdue at each site. */
export interface Place {
  organisationId: string
  bounds: [number, number, number, number]
  now: Date
  timeZone: string
}

export interface TreeMark {
  id: string
  tag: string
  lon: number
  lat: number
  status: TreeStatus
  /** 0 unrated, 1 low to 4 extreme. */
  risk: number
  overdue: 0 | 1
  seen: 0 | 1
  open: 0 | 1
  /** Days since 1970-01-01. */
  due: number | null
}

const risk = sql`coalesce(array_position(array['low','moderate','high','extreme'], s.risk), 0)`
const box = ([west, south, east, north]: Place['bounds']) =>
  sql`ST_MakeEnvelope(${west}, ${south}, ${east}, ${north}, 4326)`

/** Trees in the bounds with what follows from their records; a tree is overdue when the day at its site is past its due date. */
const marked = ({ organisationId, bounds, now, timeZone }: Place) => sql`
  select t.id, t.tag, ST_X(t.position) as lon, ST_Y(t.position) as lat, t.status, ${risk} as risk,
    (s.due_on is not null and s.due_on < (${now.toISOString()}::timestamptz at time zone coalesce(p.time_zone, ${timeZone}))::date)::int as overdue,
    coalesce(s.seen, false)::int as seen, coalesce(s.rating_open, false)::int as open,
    s.due_on - date '1970-01-01' as due
  from ${tree} t
  left join ${treeState} s on s.organisation_id = t.organisation_id and s.tree_id = t.id
  left join ${site} p on p.organisation_id = t.organisation_id and p.id = t.site_id
  where t.organisation_id = ${organisationId} and t.position && ${box(bounds)}`

export async function treeMarks(session: Session, place: Place, limit: number): Promise<TreeMark[]> {
  const rows = await session.execute<TreeMark & Record<string, unknown>>(sql`${marked(place)} limit ${limit}`)
  return [...rows]
}

/** The worst tree of each cell of a square grid over the bounds: highest risk, then overdue, then due first. */
export async function worstMarks(session: Session, place: Place, cells: number): Promise<TreeMark[]> {
  const [west, south, east, north] = place.bounds
  const rows = await session.execute<TreeMark & Record<string, unknown>>(sql`
    select distinct on (col, row) id, tag, lon, lat, status, risk, overdue, seen, open, due
    from (
      select m.*, floor((lon - ${west}) / ${(east - west) / cells}) as col, floor((lat - ${south}) / ${(north - south) / cells}) as row
      from (${marked(place)}) m
    ) celled
    order by col, row, (status in ('standing', 'pole')) desc, risk desc, overdue desc, due nulls last, id`)
  return [...rows]
}

export interface Cell {
  lon: number
  lat: number
  count: number
  n0: number
  n1: number
  n2: number
  n3: number
  n4: number
  overdue: number
}

/** Counts of standing trees by a square grid over the bounds, each at the middle of its trees. */
export async function treeCells(session: Session, place: Place, cells: number): Promise<Cell[]> {
  const [west, south, east, north] = place.bounds
  const count = (n: number) => sql`count(*) filter (where risk = ${n})::int`
  const rows = await session.execute<Cell & Record<string, unknown>>(sql`
    select avg(lon) as lon, avg(lat) as lat, count(*)::int as count, ${count(0)} as n0, ${count(1)} as n1,
      ${count(2)} as n2, ${count(3)} as n3, ${count(4)} as n4, sum(overdue)::int as overdue
    from (${marked(place)}) m
    where status in ('standing', 'pole')
      and lon >= ${west} and lon < ${east} and lat > ${south} and lat <= ${north}
    group by floor((lon - ${west}) / ${(east - west) / cells}), floor((lat - ${south}) / ${(north - south) / cells})`)
  return [...rows]
}

export interface Shape {
  id: string
  name: string | null
  kind: string
  geometry: GroundGeometry
}

/**
 * Lines and areas cut to the bounds. Those smaller than `leastDeg` both ways are left out, and outlines are simplified to it;
 * with 0 nothing is lost.
 */
export async function shapesIn(
  session: Session,
  table: 'ground' | 'zones',
  organisationId: string,
  bounds: Place['bounds'],
  leastDeg: number,
): Promise<Shape[]> {
  const from = table === 'ground' ? groundFeature : zone
  const cut = sql`case when geometry @ ${box(bounds)} then geometry else ST_ClipByBox2D(geometry, ${box(bounds)}) end`
  const large = sql`(ST_XMax(geometry) - ST_XMin(geometry) >= ${leastDeg} or ST_YMax(geometry) - ST_YMin(geometry) >= ${leastDeg})`
  const shape = leastDeg > 0 ? sql`ST_SimplifyPreserveTopology(${cut}, ${leastDeg / 2})` : cut
  const rows = await session.execute<Shape & Record<string, unknown>>(sql`
    select * from (
      select id, name, kind, ST_AsGeoJSON(${shape}, 9)::json as geometry
      from ${from} where organisation_id = ${organisationId} and geometry && ${box(bounds)} and ${large}
    ) cut where geometry->>'type' in ('LineString', 'MultiLineString', 'Polygon', 'MultiPolygon')
      and json_array_length(geometry->'coordinates') > 0
    order by id`)
  return [...rows]
}

/** Time zones of the sites that have their own. */
export async function siteTimeZones(session: Session, organisationId: string): Promise<string[]> {
  const rows = await session.execute<{ timeZone: string }>(sql`
    select distinct time_zone as "timeZone" from ${site}
    where organisation_id = ${organisationId} and time_zone is not null order by 1`)
  return [...rows].map((row) => row.timeZone)
}

interface Extent {
  [key: string]: unknown
  west: number | null
  south: number
  east: number
  north: number
}

/** The box around all trees, zones and sites; null before the first. */
export async function extentOf(session: Session, organisationId: string): Promise<Place['bounds'] | null> {
  const [row] = await session.execute<Extent>(sql`
    select ST_XMin(box) as west, ST_YMin(box) as south, ST_XMax(box) as east, ST_YMax(box) as north from (
      select ST_Extent(place) as box from (
        select ST_Extent(position)::geometry as place from ${tree} where organisation_id = ${organisationId}
        union all select ST_Extent(geometry)::geometry from ${zone} where organisation_id = ${organisationId}
        union all select ST_Extent(outline)::geometry from ${site} where organisation_id = ${organisationId}
      ) parts
    ) whole`)
  return row?.west == null ? null : [row.west, row.south, row.east, row.north]
}

export async function siteBounds(session: Session, organisationId: string) {
  const rows = await session.execute<{ id: string; name: string; corners: [Position, Position] }>(sql`
    select id, name, json_build_array(
      json_build_array(ST_XMin(outline), ST_YMin(outline)), json_build_array(ST_XMax(outline), ST_YMax(outline))) as corners
    from ${site} where organisation_id = ${organisationId} order by name`)
  return [...rows].map(({ id, name, corners: [southWest, northEast] }) => ({
    id,
    name,
    bounds: [...southWest, ...northEast] as Place['bounds'],
  }))
}
