import { type Session, tables } from '@underbough/db'
import type { AreaGeometry, CivilDate, Position, ZoneKind } from '@underbough/model'
import { eq, max, type SQL, sql } from 'drizzle-orm'
import { type Cell, cellAt, cellBounds } from './cells.ts'

const { exposure, exposureZone, hotspot, hotspotMonth, site, tree, treeState, zone } = tables

/** What spots are ranked by: the tree that bears most; all trees rated moderate or more, added; the ratings over it. */
export const bases = ['one', 'rated', 'rating'] as const
export type Basis = (typeof bases)[number]

/** Figures of a spot. People are mean numbers within the outline, given that the tree in question fails. */
export interface SpotFigures {
  /** Of the tree that bears most. */
  people: { mean: number; least: number; most: number }
  /** The mean numbers of all trees rated moderate or more, added. */
  sumModerate: number
  /** Trees whose fall may meet it. */
  trees: number
  treesModerate: number
  treesHigh: number
  treesExtreme: number
}

export interface Spot extends SpotFigures {
  spot: string
  zone: { id: string; name: string; kind: ZoneKind } | null
  cell: Cell | null
  /** A point within the zone; null for cells. */
  place: Position | null
  /** How the last month ended; null where it was not on the list then. */
  before: SpotFigures | null
}

export interface SpotQuestion {
  of: 'zones' | 'cells'
  basis: Basis
  siteId: string | null
  kinds: readonly ZoneKind[]
  bbox: readonly [number, number, number, number] | null
  limit: number
  offset: number
}

const order: Record<Basis, SQL> = {
  one: sql`h.people desc, h.spot`,
  rated: sql`h.sum_moderate desc, h.people desc, h.spot`,
  rating: sql`h.trees_extreme desc, h.trees_high desc, h.trees_moderate desc, h.people desc, h.spot`,
}
const counts: Record<Basis, SQL> = {
  one: sql`h.people > 0`,
  rated: sql`h.sum_moderate > 0`,
  rating: sql`h.trees_extreme + h.trees_high + h.trees_moderate > 0`,
}
const envelope = ([w, s, e, n]: readonly [number, number, number, number]) =>
  sql`ST_MakeEnvelope(${w}::float8, ${s}::float8, ${e}::float8, ${n}::float8, 4326)`
/** A cell as a box; `h` is a row of the table. */
const cellBox = sql`ST_Transform(ST_TileEnvelope(18, h.cell_x, h.cell_y), 4326)`

function asked(organisationId: string, { of, basis, siteId, kinds, bbox }: SpotQuestion): SQL {
  const parts = [sql`h.organisation_id = ${organisationId}`, counts[basis]]
  if (of === 'zones') {
    parts.push(sql`h.zone_id is not null`)
    if (siteId) parts.push(sql`z.site_id = ${siteId}`)
    if (kinds.length > 0)
      parts.push(
        sql`z.kind in (${sql.join(
          kinds.map((kind) => sql`${kind}`),
          sql`, `,
        )})`,
      )
    if (bbox) parts.push(sql`z.geometry && ${envelope(bbox)}`)
  } else {
    parts.push(sql`h.cell_x is not null`)
    if (siteId)
      parts.push(sql`exists (select from ${site} s where s.organisation_id = h.organisation_id and s.id = ${siteId}
        and h.cell_x between hotspot_cell_x(ST_Point(ST_XMin(s.outline), 0)) and hotspot_cell_x(ST_Point(ST_XMax(s.outline), 0))
        and h.cell_y between hotspot_cell_y(ST_Point(0, ST_YMax(s.outline))) and hotspot_cell_y(ST_Point(0, ST_YMin(s.outline)))
        and ST_Intersects(s.outline, ${cellBox}))`)
    if (bbox) {
      const [from, to] = [cellAt(bbox[0], bbox[3]), cellAt(bbox[2], bbox[1])]
      parts.push(sql`h.cell_x between ${from.x} and ${to.x} and h.cell_y between ${from.y} and ${to.y}`)
    }
  }
  return sql.join(parts, sql` and `)
}

const withZone = (of: SpotQuestion['of']) =>
  of === 'zones'
    ? sql`join ${zone} z on z.organisation_id = h.organisation_id and z.id = h.zone_id`
    : sql`left join ${zone} z on false`

const figuresOf = (of: string) =>
  sql.raw(
    `json_build_object('people', json_build_object('mean', ${of}.people, 'least', ${of}.people_least, 'most', ${of}.people_most),
      'sumModerate', ${of}.sum_moderate, 'trees', ${of}.trees, 'treesModerate', ${of}.trees_moderate,
      'treesHigh', ${of}.trees_high, 'treesExtreme', ${of}.trees_extreme)`,
  )

/** Spots in their order, as they stand in the ranking. `month` is the first day of the running month. */
export async function spots(
  session: Session,
  organisationId: string,
  question: SpotQuestion,
  month: CivilDate,
): Promise<Spot[]> {
  interface Row extends Record<string, unknown> {
    spot: string
    id: string | null
    name: string
    kind: ZoneKind
    x: number
    y: number
    now: SpotFigures
    before: SpotFigures | null
    place: Position | null
  }
  const rows = await session.execute<Row>(sql`
    with listed as (
      select h.* from ${hotspot} h ${withZone(question.of)}
      where ${asked(organisationId, question)}
      order by ${order[question.basis]} limit ${question.limit} offset ${question.offset}
    )
    select h.spot, h.zone_id as id, z.name, z.kind, h.cell_x as x, h.cell_y as y, ${figuresOf('h')} as now,
      (select ${figuresOf('m')} from ${hotspotMonth} m
        where m.organisation_id = h.organisation_id and m.spot = h.spot and m.month < ${month}
        order by m.month desc limit 1) as before,
      case when z.id is not null then (select json_build_array(ST_X(p), ST_Y(p)) from ST_PointOnSurface(z.geometry) p) end as place
    from listed h left join ${zone} z on z.organisation_id = h.organisation_id and z.id = h.zone_id
    order by ${order[question.basis]}`)
  return rows.map(({ spot, id, name, kind, x, y, now, before, place }) => ({
    spot,
    zone: id ? { id, name, kind } : null,
    cell: id ? null : { x, y },
    place,
    ...now,
    before,
  }))
}

export async function countSpots(
  session: Session,
  organisationId: string,
  question: SpotQuestion,
): Promise<number> {
  const narrowed = question.siteId || question.kinds.length > 0 || question.bbox
  const [row] = await session.execute<{ n: number }>(
    sql`select count(*)::int as n from ${hotspot} h ${narrowed ? withZone(question.of) : sql``}
      where ${asked(organisationId, question)}`,
  )
  return row!.n
}

/** Spots that had people under a fall when the last month ended and have none now, most first. */
export async function goneSpots(
  session: Session,
  organisationId: string,
  of: SpotQuestion['of'],
  month: CivilDate,
  limit: number,
) {
  return [
    ...(await session.execute<{
      spot: string
      name: string | null
      kind: ZoneKind | null
      before: SpotFigures
    }>(sql`
      select h.spot, h.name, h.kind, ${figuresOf('b')} as before
      from ${hotspotMonth} h
      join lateral (
        select * from ${hotspotMonth} b
        where b.organisation_id = h.organisation_id and b.spot = h.spot and b.month < h.month
        order by b.month desc limit 1
      ) b on b.people > 0
      where h.organisation_id = ${organisationId} and h.month = ${month} and h.trees = 0
        and (h.spot like '%/%') = ${of === 'cells'}
      order by b.people desc, h.spot limit ${limit}`)),
  ]
}

/** Whether the figures of an earlier month are known, to compare with. */
export async function hasEarlierMonth(session: Session, organisationId: string, month: CivilDate) {
  const [row] = await session.execute<{ known: boolean }>(
    sql`select exists (select from ${hotspotMonth} where organisation_id = ${organisationId} and month < ${month}) as known`,
  )
  return row!.known
}

/** A tree over a zone, or in a cell, with what it bears on it. */
export interface SpotTree {
  [key: string]: unknown
  treeId: string
  mean: number
  least: number
  most: number
  /** Chance that its fall touches the zone, or any zone where the spot is a cell. */
  pTouch: number
}

const riskRank = sql`coalesce(array_position(array['low','moderate','high','extreme'], s.risk), 0)`
const stands = sql`t.status in ('standing', 'pole')`
const ofTree = sql`left join ${treeState} s on s.organisation_id = t.organisation_id and s.tree_id = t.id`

/** The trees responsible for each of these spots: highest risk first where ratings rank, else most people first. */
export async function treesOfSpots(
  session: Session,
  organisationId: string,
  listed: readonly Pick<Spot, 'spot' | 'zone' | 'cell'>[],
  basis: Basis,
  limit: number,
): Promise<Map<string, SpotTree[]>> {
  const by = basis === 'one' ? sql`mean desc, tree_id` : sql`risk desc, mean desc, tree_id`
  const given = JSON.stringify(
    listed.map(({ spot, zone: z, cell }) => {
      const [w, s, e, n] = cell ? cellBounds(cell) : [0, 0, 0, 0]
      return { spot, zone_id: z?.id ?? null, x: cell?.x ?? null, y: cell?.y ?? null, w, s, e, n }
    }),
  )
  const rows = await session.execute<SpotTree & { spot: string }>(sql`
    select g.spot, o.tree_id as "treeId", o.mean, o.least, o.most, o.touch as "pTouch"
    from json_to_recordset(${given}::json)
      as g(spot text, zone_id uuid, x int, y int, w float8, s float8, e float8, n float8)
    cross join lateral (
      select * from (
        select e.tree_id, e.people as mean, e.people_least as least, e.people_most as most, e.p_touch as touch, ${riskRank} as risk
        from ${exposureZone} e
        join ${tree} t on t.organisation_id = e.organisation_id and t.id = e.tree_id and ${stands} ${ofTree}
        where e.organisation_id = ${organisationId} and e.zone_id = g.zone_id
        union all
        select t.id, e.people, e.people_least, e.people_most, e.p_touch, ${riskRank}
        from ${tree} t
        join ${exposure} e on e.organisation_id = t.organisation_id and e.tree_id = t.id ${ofTree}
        where g.x is not null and t.organisation_id = ${organisationId} and ${stands}
          and t.position && ST_MakeEnvelope(g.w, g.s, g.e, g.n, 4326)
          and hotspot_cell_x(t.position) = g.x and hotspot_cell_y(t.position) = g.y and e.p_touch > 0
      ) over_it order by ${by} limit ${limit}
    ) o`)
  const found = new Map<string, SpotTree[]>()
  for (const { spot, ...row } of rows) found.set(spot, [...(found.get(spot) ?? []), row])
  return found
}

/** Outlines of zones for a drawing or a file: outer rings counter-clockwise, 1e-7 degrees. */
export async function outlines(session: Session, organisationId: string, zoneIds: readonly string[]) {
  const rows = await session.execute<{ id: string; geometry: AreaGeometry }>(sql`
    select z.id, ST_AsGeoJSON(ST_ForcePolygonCCW(z.geometry), 7)::json as geometry from ${zone} z
    where z.organisation_id = ${organisationId}
      and z.id in (select value::uuid from json_array_elements_text(${JSON.stringify(zoneIds)}::json))`)
  return new Map(rows.map(({ id, geometry }) => [id, geometry]))
}

/** When the newest of the figures was computed and by which method; nulls before the first. */
export async function figuresMade(session: Session, organisationId: string) {
  const [row] = await session
    .select({ at: max(exposure.computedAt), methodVersion: max(exposure.methodVersion) })
    .from(exposure)
    .where(eq(exposure.organisationId, organisationId))
  return {
    computedAt: row?.at ? new Date(row.at).toISOString() : null,
    methodVersion: row?.methodVersion ?? null,
  }
}
