import { type Session, tables } from '@underbough/db'
import type { CivilDate } from '@underbough/model'
import { sql } from 'drizzle-orm'
import { type Cell, cellBounds, cellKey } from './cells.ts'

const { exposure, exposureZone, hotspot, hotspotMonth, hotspotTouched, tree, treeState, zone } = tables

/** Takes up to `limit` marks of what was touched; one process at a time until its transaction ends. */
export async function takeTouched(session: Session, organisationId: string, limit: number) {
  await session.execute(
    sql`select pg_advisory_xact_lock(hashtextextended(${`hotspots ${organisationId}`}, 0))`,
  )
  const rows = await session.execute<{ zone_id: string | null; x: number; y: number }>(sql`
    with taken as (
      delete from ${hotspotTouched} where ctid = any(array(
        select ctid from ${hotspotTouched} where organisation_id = ${organisationId} limit ${limit}))
      returning zone_id, cell_x, cell_y
    ) select distinct zone_id, cell_x as x, cell_y as y from taken`)
  return {
    zoneIds: rows.flatMap((row) => row.zone_id ?? []),
    cells: rows.flatMap(({ zone_id, x, y }): Cell[] => (zone_id ? [] : [{ x, y }])),
  }
}

export async function anyTouched(session: Session, organisationId: string): Promise<boolean> {
  const [row] = await session.execute<{ any: boolean }>(
    sql`select exists (select from ${hotspotTouched} where organisation_id = ${organisationId}) as any`,
  )
  return row!.any
}

const risk = sql`coalesce(array_position(array['low','moderate','high','extreme'], s.risk), 0)`
const stands = sql`t.status in ('standing', 'pole')`
const ofTree = sql`left join ${treeState} s on s.organisation_id = t.organisation_id and s.tree_id = t.id`

/** Sums over `over(spot, tree_id, mean, least, most, risk)`, one row a spot. */
const summed = sql`
  select spot, (array_agg(mean order by mean desc, tree_id))[1] as people,
    (array_agg(least order by mean desc, tree_id))[1] as people_least,
    (array_agg(most order by mean desc, tree_id))[1] as people_most,
    coalesce(sum(mean) filter (where risk >= 2), 0) as sum_moderate, count(*)::int as trees,
    count(*) filter (where risk >= 2)::int as trees_moderate, count(*) filter (where risk >= 3)::int as trees_high,
    count(*) filter (where risk >= 4)::int as trees_extreme
  from over_it group by spot`

const columns = sql.raw(
  'people, people_least, people_most, sum_moderate, trees, trees_moderate, trees_high, trees_extreme',
)
const anew = sql.raw(
  'people people_least people_most sum_moderate trees trees_moderate trees_high trees_extreme'
    .split(' ')
    .map((name) => `${name} = excluded.${name}`)
    .join(', '),
)

/** Reckons these zones anew and keeps how they stand in this month. A zone that nothing hangs over leaves the ranking. */
export async function settleZones(
  session: Session,
  organisationId: string,
  zoneIds: readonly string[],
  month: CivilDate,
) {
  const given = sql`(select value as spot, value::uuid as zone_id from json_array_elements_text(${JSON.stringify(zoneIds)}::json))`
  await session.execute(sql`
    with asked as materialized ${given}, over_it as (
      select a.spot, e.tree_id, e.people::float8 as mean, e.people_least::float8 as least, e.people_most::float8 as most, ${risk} as risk
      from asked a
      join ${exposureZone} e on e.organisation_id = ${organisationId} and e.zone_id = a.zone_id
      join ${tree} t on t.organisation_id = e.organisation_id and t.id = e.tree_id and ${stands} ${ofTree}
    ), made as (${summed}), put as (
      insert into ${hotspot} (organisation_id, spot, zone_id, ${columns})
      select ${organisationId}, m.spot, z.id, ${columns} from made m
      join ${zone} z on z.organisation_id = ${organisationId} and z.id = m.spot::uuid
      on conflict (organisation_id, spot) do update set ${anew}
    ), gone as (
      delete from ${hotspot} h using asked a
      where h.organisation_id = ${organisationId} and h.spot = a.spot and not exists (select from made m where m.spot = a.spot)
    )
    ${kept(organisationId, month, sql`z.name`, sql`z.kind`, sql`left join ${zone} z on z.organisation_id = ${organisationId} and z.id = a.zone_id`)}`)
}

/** The same for cells: of each tree in one, the figure over all its zones together. */
export async function settleCells(
  session: Session,
  organisationId: string,
  cells: readonly Cell[],
  month: CivilDate,
) {
  const given = JSON.stringify(
    cells.map((cell) => {
      const [w, s, e, n] = cellBounds(cell)
      return { spot: cellKey(cell), ...cell, w, s, e, n }
    }),
  )
  await session.execute(sql`
    with asked as materialized (
      select * from json_to_recordset(${given}::json)
        as g(spot text, x int, y int, w float8, s float8, e float8, n float8)
    ), over_it as (
      select a.spot, t.id as tree_id, e.people::float8 as mean,
        e.people_least::float8 as least, e.people_most::float8 as most, ${risk} as risk
      from asked a
      join ${tree} t on t.organisation_id = ${organisationId} and ${stands}
        and t.position && ST_MakeEnvelope(a.w, a.s, a.e, a.n, 4326)
        and hotspot_cell_x(t.position) = a.x and hotspot_cell_y(t.position) = a.y
      join ${exposure} e on e.organisation_id = t.organisation_id and e.tree_id = t.id
        and e.p_touch_most > 0 ${ofTree}
    ), made as (${summed}), put as (
      insert into ${hotspot} (organisation_id, spot, cell_x, cell_y, ${columns})
      select ${organisationId}, a.spot, a.x, a.y, ${columns} from made m join asked a on a.spot = m.spot
      on conflict (organisation_id, spot) do update set ${anew}
    ), gone as (
      delete from ${hotspot} h using asked a
      where h.organisation_id = ${organisationId} and h.spot = a.spot and not exists (select from made m where m.spot = a.spot)
    )
    ${kept(organisationId, month, sql`null`, sql`null`, sql``)}`)
}

/** Writes how the asked spots stand into this month; zeros for one that was known before and is not over anything now. */
const kept = (
  organisationId: string,
  month: CivilDate,
  name: ReturnType<typeof sql>,
  kind: ReturnType<typeof sql>,
  join: ReturnType<typeof sql>,
) => sql`
  insert into ${hotspotMonth} (organisation_id, spot, month, name, kind, ${columns})
  select ${organisationId}, a.spot, ${month}::date, coalesce(${name}, b.name), coalesce(${kind}, b.kind),
    coalesce(m.people, 0), coalesce(m.people_least, 0), coalesce(m.people_most, 0), coalesce(m.sum_moderate, 0),
    coalesce(m.trees, 0), coalesce(m.trees_moderate, 0), coalesce(m.trees_high, 0), coalesce(m.trees_extreme, 0)
  from asked a
  left join made m on m.spot = a.spot
  left join lateral (
    select h.name, h.kind from ${hotspotMonth} h
    where h.organisation_id = ${organisationId} and h.spot = a.spot order by h.month desc limit 1
  ) b on true ${join}
  where m.spot is not null
    or exists (select from ${hotspotMonth} h where h.organisation_id = ${organisationId} and h.spot = a.spot)
  on conflict (organisation_id, spot, month) do update set name = excluded.name, kind = excluded.kind, ${anew}`
