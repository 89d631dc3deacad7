import { type Session, tables } from '@underbough/db'
import {
  addDays,
  type CivilDate,
  dayNumber,
  mondayOf,
  type Position,
  type TreeStatus,
} from '@underbough/model'
import { type SQL, sql } from 'drizzle-orm'
import { countsKnow, isOpen, type Narrowing } from './narrowing.ts'
import { type Drawn, drawnOf } from './wkb.ts'

const { exposureZone, groundFeature, mapChange, mapVersion, site, tree, treeCount, treeMark, zone } = tables

export type Bounds = [west: number, south: number, east: number, north: number]
/** The day at the organisation, and at its sites where it is another now: a tree is overdue when the day at its site is past its due date. */
export interface Days {
  day: CivilDate
  elsewhere: { siteId: string; day: CivilDate }[]
}
/** What is asked for: the trees of an organisation that lie in a range of places and pass a narrowing. */
export interface Asked {
  organisationId: string
  /** The zoom of the tile. */
  zoom: number
  places: [from: bigint, to: bigint]
  narrowing: Narrowing
  days: Days
}

/** A mark in few columns, which a driver reads faster than many. */
export interface TreeMark {
  id: string
  tag: string
  /** Units of the tile: 4096 times those east, and those south. */
  at: number
  /** From the lowest bit: 3 for the risk (0 not yet rated, 1 low to 4 extreme), then overdue, seen, rating open, 2 for the status. */
  look: number
  /** Days since 1970-01-01. */
  due: number | null
  names?: string
  site?: string | null
}
/** Statuses by their number in `look`. */
export const statusOfLook = ['standing', 'pole', 'stump', 'gone'] as const satisfies readonly TreeStatus[]

const ranks: Record<string, number> = { unrated: 0, low: 1, moderate: 2, high: 3, extreme: 4 }
const oneOf = (column: SQL, values: readonly (string | number)[]) =>
  sql`${column} in (${sql.join(
    values.map((value) => sql`${value}`),
    sql`, `,
  )})`
const stands = sql`m.status in ('standing', 'pole')`

/** Whether the mark `m` is overdue. */
export function overdue({ day, elsewhere }: Days): SQL {
  if (elsewhere.length === 0) return sql`coalesce(m.due_on < ${day}::date, false)`
  const whens = elsewhere.map((one) => sql`when m.site_id = ${one.siteId} then ${one.day}::date`)
  return sql`coalesce(m.due_on < case ${sql.join(whens, sql` `)} else ${day}::date end, false)`
}

/** What a mark `m` must meet to pass. */
export function passing(narrowing: Narrowing, days: Days): SQL {
  const { risk, seen, dueFrom, dueUntil, names, siteId, status, stemFromCm, stemUntilCm, over } = narrowing
  const like = names && `%${names.toLowerCase().replace(/[%_\\]/g, '\\$&')}%`
  const parts = [
    risk &&
      oneOf(
        sql`m.risk`,
        risk.map((word) => ranks[word]!),
      ),
    narrowing.overdue !== undefined && sql`${overdue(days)} = ${narrowing.overdue}`,
    seen !== undefined && sql`m.seen = ${seen}`,
    dueFrom && sql`m.due_on >= ${dueFrom}::date`,
    dueUntil && sql`m.due_on <= ${dueUntil}::date`,
    like && sql`m.names like ${like}`,
    siteId && sql`m.site_id = ${siteId}`,
    status && oneOf(sql`m.status`, status),
    stemFromCm !== undefined && sql`m.stem_diameter_cm >= ${stemFromCm}`,
    stemUntilCm !== undefined && sql`m.stem_diameter_cm <= ${stemUntilCm}`,
    over &&
      sql`exists (select from ${exposureZone} e join ${zone} z on z.organisation_id = e.organisation_id and z.id = e.zone_id
        where e.organisation_id = m.organisation_id and e.tree_id = m.tree_id and ${oneOf(sql`z.kind`, over)})`,
  ].filter((part) => part !== undefined && part !== false && part !== '')
  return parts.length === 0 ? sql`true` : sql.join(parts as SQL[], sql` and `)
}

const inPlaces = ({ organisationId, places: [from, to] }: Asked) =>
  sql`m.organisation_id = ${organisationId} and m.place >= ${`${from}`}::bigint and m.place < ${`${to}`}::bigint`

/** Units of a tile are this many bits coarser than those of a place. */
const unitBits = (zoom: number) => 18 - zoom
const unitOf = (column: SQL, zoom: number) =>
  zoom <= 18
    ? sql`((${column} >> ${sql.raw(`${unitBits(zoom)}`)}) & 4095)`
    : sql`((${column}::bigint << ${sql.raw(`${-unitBits(zoom)}`)}) & 4095)::int`

const markColumns = ({ days, zoom }: Asked, whole: boolean) => sql`
  m.tree_id as id, m.tag, ${unitOf(sql`m.x`, zoom)} * 4096 + ${unitOf(sql`m.y`, zoom)} as at,
  m.risk + 8 * ${overdue(days)}::int + 16 * m.seen::int + 32 * m.rating_open::int
    + 64 * (array_position(${sql.raw(`array['${statusOfLook.join("','")}']`)}, m.status) - 1) as look,
  m.due_on - date '1970-01-01' as due ${whole ? sql`, m.names, m.site_id as site` : sql``}`

/** The marks in a range that pass, or do not (`not`); with names and sites where the `whole` is asked for. */
export async function treeMarks(
  session: Session,
  asked: Asked,
  whole: boolean,
  not = false,
): Promise<TreeMark[]> {
  const pass = passing(asked.narrowing, asked.days)
  const rows = await session.execute<TreeMark & Record<string, unknown>>(sql`
    select ${markColumns(asked, whole)} from ${treeMark} m
    where ${inPlaces(asked)} and ${not ? sql`(${pass}) is not true` : pass}`)
  return [...rows]
}

/** Whether more marks than this lie in the range, whatever the narrowing. */
export async function moreThan(session: Session, asked: Asked, most: number): Promise<boolean> {
  const [row] = await session.execute<{ more: boolean }>(sql`
    select count(*) > ${most} as more from (select from ${treeMark} m where ${inPlaces(asked)} limit ${most + 1}) counted`)
  return row!.more
}

/**
 * The worst mark that passes of each square: standing, then the highest risk, then due first. Each square is looked up in an
 * index that holds its marks in this order, so that the trees behind the worst are not read.
 * The zoom is 12 to 15, whose squares are 32 along the side of a tile.
 */
export async function worstMarks(session: Session, asked: Asked): Promise<(TreeMark & { square: string })[]> {
  const { zoom } = asked
  const square = sql.raw(`m.square${zoom}`)
  const bits = BigInt(2 * (30 - zoom - 5))
  const [from, to] = asked.places.map((place) => `${place >> bits}`)
  const ofSquare = sql`m.organisation_id = ${asked.organisationId} and ${square} = squares.at`
  const worst = sql`order by m.rank, m.tree_id limit 1`
  // Narrowed, several are looked at before one passes: in the index alone, and only the one is fetched.
  const found = isOpen(asked.narrowing)
    ? sql`select m.* from ${treeMark} m where ${ofSquare} ${worst}`
    : sql`select whole.* from (
        select m.tree_id from ${treeMark} m where ${ofSquare} and ${passing(asked.narrowing, asked.days)} ${worst}
      ) one join ${treeMark} whole on whole.organisation_id = ${asked.organisationId} and whole.tree_id = one.tree_id`
  const rows = await session.execute<TreeMark & { square: string } & Record<string, unknown>>(sql`
    select squares.at::text as square, ${markColumns(asked, false)}
    from generate_series(${from}::bigint, ${to}::bigint - 1) squares(at) cross join lateral (${found}) m`)
  return [...rows]
}

export interface Cell {
  x: number
  y: number
  count: number
  n0: number
  n1: number
  n2: number
  n3: number
  n4: number
  overdue: number
}

/**
 * Counts of standing trees in the squares of a grid over the range, each at the middle of its trees. `level` is the zoom whose
 * tiles are the squares.
 */
export async function treeCells(session: Session, asked: Asked, level: number): Promise<Cell[]> {
  const count = (n: number) => sql`coalesce(sum(n) filter (where risk = ${n}), 0)::int`
  const rows = await session.execute<Cell & Record<string, unknown>>(sql`
    select (sum(sum_x::float8) / sum(n))::int as x, (sum(sum_y::float8) / sum(n))::int as y, sum(n)::int as count, ${count(0)} as n0,
      ${count(1)} as n1, ${count(2)} as n2, ${count(3)} as n3, ${count(4)} as n4,
      coalesce(sum(n) filter (where overdue), 0)::int as overdue
    from (${countsKnow(asked.narrowing) ? counted(asked, level) : oneByOne(asked, level)}) part
    group by cell having sum(n) > 0`)
  return [...rows]
}

/** The levels whose counts are kept. */
const keptLevels = [8, 11, 14]
const cellAt = (column: SQL, bits: number) => sql`${column} >> ${sql.raw(`${bits}`)}`

/** Counts as they are kept, by week; the trees of the week that is now, some of whom are overdue and some not, one by one. */
function counted(asked: Asked, level: number): SQL {
  const { organisationId, narrowing, days, places } = asked
  const kept = keptLevels.find((one) => one >= level) ?? 14
  const [from, to] = places.map((place) => `${place >> BigInt(60 - 2 * kept)}`)
  const today = [days.day, ...days.elsewhere.map((one) => one.day)].sort()
  const thisWeek = mondayOf(today[0]!)
  const afterWeek = addDays(mondayOf(today.at(-1)!), 7)
  const [first, after] = [dayNumber(thisWeek), dayNumber(afterWeek)]
  const { risk, seen, dueFrom, dueUntil } = narrowing
  const late = sql`(c.week <> 0 and c.week < ${first})`
  const parts = [
    sql`c.organisation_id = ${organisationId} and c.level = ${kept} and c.cell >= ${from}::bigint and c.cell < ${to}::bigint`,
    sql`(c.week < ${first} or c.week >= ${after})`,
    risk &&
      oneOf(
        sql`c.risk`,
        risk.map((word) => ranks[word]!),
      ),
    seen !== undefined && sql`c.seen = ${seen}`,
    narrowing.overdue !== undefined && sql`${late} = ${narrowing.overdue}`,
    (dueFrom || dueUntil) && sql`c.week <> 0`,
    dueFrom && sql`c.week >= ${dayNumber(dueFrom)}`,
    dueUntil && sql`c.week <= ${dayNumber(dueUntil)}`,
  ].filter((part) => part !== undefined && part !== false && part !== '')
  return sql`
    select ${cellAt(sql`c.cell`, 2 * (kept - level))} as cell, c.risk, ${late} as overdue, c.n, c.sum_x, c.sum_y
    from ${treeCount} c where ${sql.join(parts as SQL[], sql` and `)}
    union all ${oneByOne(asked, level, sql`m.due_on >= ${thisWeek}::date and m.due_on < ${afterWeek}::date`)}`
}

const oneByOne = (asked: Asked, level: number, also?: SQL) => sql`
  select ${cellAt(sql`m.place`, 60 - 2 * level)} as cell, m.risk, ${overdue(asked.days)} as overdue, 1 as n, m.x::bigint as sum_x, m.y::bigint as sum_y
  from ${treeMark} m
  where ${inPlaces(asked)} and ${asked.narrowing.status ? sql`true` : stands} and ${passing(asked.narrowing, asked.days)}
    ${also ? sql`and ${also}` : sql``}`

export interface Shape {
  id: string
  name: string | null
  kind: string
  drawn: Drawn
}
type ShapeRow = { id: string; name: string | null; kind: string; bytes: Buffer }
const asShape = ({ bytes, ...rest }: ShapeRow): Shape => ({ ...rest, drawn: drawnOf(bytes) })

const box = ([west, south, east, north]: Bounds) =>
  sql`ST_MakeEnvelope(${west}, ${south}, ${east}, ${north}, 4326)`
/** A geometry cut to the bounds, and simplified to `leastDeg` where it has many corners; with 0 nothing is lost. */
function cut(bounds: Bounds, leastDeg: number): SQL {
  const part = sql`case when geometry @ ${box(bounds)} then geometry else ST_ClipByBox2D(geometry, ${box(bounds)}) end`
  return leastDeg > 0
    ? sql`case when ST_NPoints(geometry) > 24 then ST_SimplifyPreserveTopology(${part}, ${leastDeg / 2}) else ${part} end`
    : part
}

/** Lines and areas of the ground in the bounds. Those smaller than `leastDeg` both ways are left out. */
export async function groundIn(
  session: Session,
  organisationId: string,
  bounds: Bounds,
  leastDeg: number,
): Promise<Shape[]> {
  const rows = await session.execute<ShapeRow & Record<string, unknown>>(sql`
    select id, name, kind, ST_AsBinary(${cut(bounds, leastDeg)}, 'NDR') as bytes
    from ${groundFeature} where organisation_id = ${organisationId} and geometry && ${box(bounds)}
      and (ST_XMax(geometry) - ST_XMin(geometry) >= ${leastDeg} or ST_YMax(geometry) - ST_YMin(geometry) >= ${leastDeg})
    order by id`)
  return [...rows].map(asShape)
}

/** Areas below which the zones that are shown from afar are found by an index of their own, m². */
const LARGE_M2 = 1000

/** Zones in the bounds of at least an area, the largest where there are more than `most`. */
export async function zonesIn(
  session: Session,
  organisationId: string,
  bounds: Bounds,
  thin: { leastM2: number; leastDeg: number; most: number } | null,
): Promise<Shape[]> {
  const { leastM2, leastDeg, most } = thin ?? { leastM2: 0, leastDeg: 0, most: null }
  const large = leastM2 >= LARGE_M2 ? sql`and area_m2 >= ${sql.raw(`${LARGE_M2}`)}` : sql``
  const rows = await session.execute<ShapeRow & Record<string, unknown>>(sql`
    select id, name, kind, ST_AsBinary(${cut(bounds, leastDeg)}, 'NDR') as bytes
    from (
      select id, name, kind, geometry from ${zone}
      where organisation_id = ${organisationId} and geometry && ${box(bounds)} and area_m2 >= ${leastM2} ${large}
      ${most === null ? sql`order by id` : sql`order by area_m2 desc, id limit ${most}`}
    ) shown`)
  return [...rows].map(asShape)
}

/** Where a tile's content may have changed: ranges of places, and cells larger than the tile that hold it. */
export interface Watched {
  layer: 'trees' | 'ground'
  ranges: [from: bigint, to: bigint][]
  /** Cells by zoom and first place. */
  holding: [level: number, place: bigint][]
}

/** How often an area changed, and the time zones by which its days begin. */
export async function changesOf(
  session: Session,
  organisationId: string,
  { layer, ranges, holding }: Watched,
) {
  const areas = [
    ...ranges.map(([from, to]) => sql`(c.place >= ${`${from}`}::bigint and c.place < ${`${to}`}::bigint)`),
    ...(holding.length > 0
      ? [
          sql`((c.level, c.place) in (${sql.join(
            holding.map(([level, place]) => sql`(${level}::smallint, ${`${place}`}::bigint)`),
            sql`, `,
          )}))`,
        ]
      : []),
  ]
  const [row] = await session.execute<{
    n: number
    whole: number
    zones: { id: string; zone: string }[]
  }>(sql`
    select
      (select coalesce(sum(c.n), 0)::float8 from ${mapChange} c
        where c.organisation_id = ${organisationId} and c.layer = ${layer} and (${sql.join(areas, sql` or `)})) as n,
      coalesce((select v.${sql.raw(layer)} from ${mapVersion} v where v.organisation_id = ${organisationId}), 0) as whole,
      coalesce((select json_agg(json_build_object('id', p.id, 'zone', p.time_zone) order by p.id) from ${site} p
        where p.organisation_id = ${organisationId} and p.time_zone is not null), '[]') as zones`)
  return row!
}

/** Sites that have a time zone of their own. */
export async function siteTimeZones(session: Session, organisationId: string) {
  const rows = await session.execute<{ id: string; zone: string }>(sql`
    select id, time_zone as zone from ${site} where organisation_id = ${organisationId} and time_zone is not null order by id`)
  return [...rows]
}

interface Extent {
  [key: string]: unknown
  west: number | null
  south: number
  east: number
  north: number
}

/** The box around all trees, zones and sites; null before the first. */
export async function extentOf(session: Session, organisationId: string): Promise<Bounds | null> {
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
    bounds: [...southWest, ...northEast] as Bounds,
  }))
}
