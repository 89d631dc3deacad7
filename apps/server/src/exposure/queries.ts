import { type Session, tables } from '@underbough/db'
import type { ZoneOnGround } from '@underbough/exposure'
import type { AreaGeometry, Position, Tree } from '@underbough/model'
import { and, asc, eq, inArray, sql } from 'drizzle-orm'
import { near } from '../geometry/near.ts'

const { exposure, exposureZone, site, tree, zone } = tables

export interface ExposureTree
  extends Pick<
    Tree,
    | 'id'
    | 'heightM'
    | 'stems'
    | 'crownBaseHeightM'
    | 'crownRadiiM'
    | 'lean'
    | 'clearingBearingDeg'
    | 'slope'
    | 'deadOrBrittle'
    | 'status'
  > {
  position: Position
  windRose: number[] | null
}

export async function exposureTrees(
  session: Session,
  organisationId: string,
  treeIds: string[],
): Promise<ExposureTree[]> {
  return session
    .select({
      id: tree.id,
      heightM: tree.heightM,
      stems: tree.stems,
      crownBaseHeightM: tree.crownBaseHeightM,
      crownRadiiM: tree.crownRadiiM,
      lean: tree.lean,
      clearingBearingDeg: tree.clearingBearingDeg,
      slope: tree.slope,
      deadOrBrittle: tree.deadOrBrittle,
      status: tree.status,
      position: sql<Position>`json_build_array(ST_X(${tree.position}), ST_Y(${tree.position}))`,
      windRose: site.windRose,
    })
    .from(tree)
    .leftJoin(site, and(eq(site.organisationId, tree.organisationId), eq(site.id, tree.siteId)))
    .where(and(eq(tree.organisationId, organisationId), inArray(tree.id, treeIds)))
}

/** For each tree, the zones within so many metres of it (geodesic). */
export async function zonesWithin(
  session: Session,
  organisationId: string,
  trees: { treeId: string; withinM: number }[],
) {
  const given = JSON.stringify(trees.map(({ treeId, withinM }) => ({ tree_id: treeId, within_m: withinM })))
  const rows = (await session.execute(sql`
    select r.tree_id, z.id as zone_id
    from json_to_recordset(${given}::json) as r(tree_id uuid, within_m double precision)
    join ${tree} t on t.organisation_id = ${organisationId} and t.id = r.tree_id
    join ${zone} z on z.organisation_id = t.organisation_id and ${near(sql`z.geometry`, sql`t.position`, sql`r.within_m`)}`)) as unknown as {
    tree_id: string
    zone_id: string
  }[]
  const zonesOf = new Map<string, string[]>()
  for (const { tree_id, zone_id } of rows) {
    const list = zonesOf.get(tree_id)
    if (list) list.push(zone_id)
    else zonesOf.set(tree_id, [zone_id])
  }
  return zonesOf
}

export async function exposureZones(
  session: Session,
  organisationId: string,
  zoneIds: string[],
): Promise<ZoneOnGround[]> {
  if (zoneIds.length === 0) return []
  return session
    .select({
      id: zone.id,
      geometry: sql<AreaGeometry>`ST_AsGeoJSON(${zone.geometry}, 9)::json`,
      areaM2: zone.areaM2,
      occupancy: zone.occupancy,
      seasons: zone.seasons,
      groupSize: zone.groupSize,
      staticTarget: zone.staticTarget,
      shelterHeightM: zone.shelterHeightM,
      shelterClass: zone.shelterClass,
      partOf: zone.partOf,
    })
    .from(zone)
    .where(and(eq(zone.organisationId, organisationId), inArray(zone.id, zoneIds)))
}

export async function allTreeIds(session: Session, organisationId: string): Promise<string[]> {
  const rows = await session
    .select({ id: tree.id })
    .from(tree)
    .where(eq(tree.organisationId, organisationId))
    .orderBy(asc(tree.id))
  return rows.map((row) => row.id)
}

type ExposureRow = Omit<typeof exposure.$inferInsert, 'organisationId'>
type ZoneRow = Omit<typeof exposureZone.$inferInsert, 'organisationId'>

/** Puts the figures of these trees in the place of their old ones. Trees without a row have nothing that could fall. */
export async function storeExposure(
  session: Session,
  organisationId: string,
  treeIds: string[],
  rows: ExposureRow[],
  zoneRows: ZoneRow[],
) {
  const mine = and(eq(exposure.organisationId, organisationId), inArray(exposure.treeId, treeIds))
  await session
    .delete(exposureZone)
    .where(and(eq(exposureZone.organisationId, organisationId), inArray(exposureZone.treeId, treeIds)))
  await session.delete(exposure).where(mine)
  if (rows.length > 0) await session.insert(exposure).values(rows.map((row) => ({ organisationId, ...row })))
  for (let at = 0; at < zoneRows.length; at += 1000)
    await session
      .insert(exposureZone)
      .values(zoneRows.slice(at, at + 1000).map((row) => ({ organisationId, ...row })))
}

export async function exposureById(session: Session, organisationId: string, treeId: string) {
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
