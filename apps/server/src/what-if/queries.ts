import { type Session, tables } from '@underbough/db'
import type { RiskWord, Tree, Zone } from '@underbough/model'
import { sql } from 'drizzle-orm'

const { tree, treeState, zone } = tables

/** A standing tree as a change near it needs it: what it is called, where it stands, and what shapes its fall. */
export type TreeNear = Pick<
  Tree,
  | 'id'
  | 'tag'
  | 'species'
  | 'commonName'
  | 'siteId'
  | 'position'
  | 'status'
  | 'heightM'
  | 'stems'
  | 'crownBaseHeightM'
  | 'crownRadiiM'
  | 'lean'
  | 'clearingBearingDeg'
  | 'slope'
  | 'deadOrBrittle'
> & { risk: RiskWord | null }

/** Standing trees within metres of a zone, the nearest first, at most `limit`. */
export async function treesNearZone(
  session: Session,
  organisationId: string,
  zoneId: string,
  withinM: number,
  limit: number,
): Promise<TreeNear[]> {
  const rows = await session.execute<TreeNear & Record<string, unknown>>(sql`
    select t.id, t.tag, t.species, t.common_name as "commonName", t.site_id as "siteId",
      json_build_array(ST_X(t.position), ST_Y(t.position)) as position, t.status, t.height_m as "heightM", t.stems,
      t.crown_base_height_m as "crownBaseHeightM", t.crown_radii_m as "crownRadiiM", t.lean,
      t.clearing_bearing_deg as "clearingBearingDeg", t.slope, t.dead_or_brittle as "deadOrBrittle", s.risk
    from ${zone} z
    join ${tree} t on t.organisation_id = z.organisation_id and t.status in ('standing', 'pole')
      and ST_DWithin((t.position)::geography, (z.geometry)::geography, ${withinM}::float8)
    left join ${treeState} s on s.organisation_id = t.organisation_id and s.tree_id = t.id
    where z.organisation_id = ${organisationId} and z.id = ${zoneId}
    order by ST_Distance((t.position)::geography, (z.geometry)::geography), t.id limit ${limit}`)
  return [...rows]
}

/** Zones that change what falls on this one: the larger one it is part of, its own parts, and buildings near that may stop a stem. */
export async function zonesTouchingOn(
  session: Session,
  organisationId: string,
  of: Pick<Zone, 'id' | 'partOf'>,
  withinM: number,
): Promise<string[]> {
  const rows = await session.execute<{ id: string }>(sql`
    select z.id from ${zone} z join ${zone} o on o.organisation_id = z.organisation_id and o.id = ${of.id}
    where z.organisation_id = ${organisationId} and z.id <> o.id
      and (z.id = o.part_of or z.part_of = o.id or (z.shelter_height_m > 0 and z.shelter_class is not null
        and ST_DWithin((z.geometry)::geography, (o.geometry)::geography, ${withinM}::float8)))
    limit 500`)
  return rows.map(({ id }) => id)
}
