import { type Session, tables } from '@underbough/db'
import type { Position, ZoneKind } from '@underbough/model'
import { eq, max, sql } from 'drizzle-orm'

const { exposure, exposureZone, tree, treeState, zone } = tables

/** What hangs over one zone. People are mean numbers within its outline, given that the tree in question fails. */
export interface Hotspot {
  [key: string]: unknown
  id: string
  name: string
  kind: ZoneKind
  /** A point within the zone. */
  place: Position
  /** Of the tree that bears most. */
  mean: number
  least: number
  most: number
  /** Over the trees rated moderate or more. */
  sumModerate: number
  trees: number
  treesModerate: number
  worst: string[]
}

/**
 * Zones with the most people under rated trees first: by the sum over trees rated moderate or more, then by the tree that
 * bears most. Trees that are down are left out. `worst` holds up to `worstTrees` trees, highest risk first, then most people.
 */
export async function hotspots(
  session: Session,
  organisationId: string,
  limit: number,
  worstTrees: number,
): Promise<Hotspot[]> {
  const rows = await session.execute<Hotspot>(sql`
    with over as (
      select e.zone_id, e.tree_id, e.people, e.people_least, e.people_most,
        coalesce(array_position(array['low','moderate','high','extreme'], s.risk), 0) as risk
      from ${exposureZone} e
      join ${tree} t on t.organisation_id = e.organisation_id and t.id = e.tree_id and t.status in ('standing', 'pole')
      left join ${treeState} s on s.organisation_id = e.organisation_id and s.tree_id = e.tree_id
      where e.organisation_id = ${organisationId}
    ), by_zone as (
      select zone_id, count(*)::int as trees, count(*) filter (where risk >= 2)::int as "treesModerate",
        coalesce(sum(people) filter (where risk >= 2), 0) as "sumModerate",
        (array_agg(people order by people desc, tree_id))[1] as mean,
        (array_agg(people_least order by people desc, tree_id))[1] as least,
        (array_agg(people_most order by people desc, tree_id))[1] as most,
        (array_agg(tree_id order by risk desc, people desc, tree_id))[1:${sql.raw(String(worstTrees))}] as worst
      from over group by zone_id
    )
    select z.id, z.name, z.kind, b.trees, b."treesModerate", b."sumModerate", b.mean, b.least, b.most,
      to_json(b.worst) as worst,
      (select json_build_array(ST_X(p), ST_Y(p)) from ST_PointOnSurface(z.geometry) p) as place
    from by_zone b join ${zone} z on z.organisation_id = ${organisationId} and z.id = b.zone_id
    order by b."sumModerate" desc, b.mean desc, z.name, z.id limit ${limit}`)
  return [...rows]
}

/** When the newest of the figures was computed; null before the first. */
export async function computedAt(session: Session, organisationId: string): Promise<string | null> {
  const [row] = await session
    .select({ at: max(exposure.computedAt) })
    .from(exposure)
    .where(eq(exposure.organisationId, organisationId))
  return row?.at ? new Date(row.at).toISOString() : null
}
