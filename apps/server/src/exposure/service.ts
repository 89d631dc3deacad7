import type { Session } from '@underbough/db'
import { type FallingTree, outlineAt } from '@underbough/exposure'
import { type Position, planeAt } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import type { JobContext } from '../jobs/jobs.ts'
import { exposureAround, falling, hoursOfZones, reachMOf } from './compute.ts'
import * as queries from './queries.ts'

const CHUNK = 200

/**
 * Recomputes who is under these trees, or under all (`null`), in chunks that each commit whole: a job that died half-way and
 * is begun again writes the same figures.
 */
export async function recomputeExposure(
  deps: Deps,
  organisationId: string,
  treeIds: string[] | null,
  job?: JobContext,
) {
  const ids = treeIds ?? (await queries.allTreeIds(deps.database.db, organisationId))
  for (let at = 0; at < ids.length; at += CHUNK) {
    await job?.progress(at, ids.length)
    await deps.database.transaction((tx) =>
      recomputeChunk(tx, organisationId, ids.slice(at, at + CHUNK), deps.now()),
    )
  }
  await job?.progress(ids.length, ids.length)
}

async function recomputeChunk(session: Session, organisationId: string, treeIds: string[], now: Date) {
  const trees = await queries.exposureTrees(session, organisationId, treeIds)
  const standing = trees.flatMap((tree) => {
    const made = falling(tree)
    return made ? [{ tree, made }] : []
  })
  const near = await queries.zonesWithin(
    session,
    organisationId,
    standing.map(({ tree, made }) => ({ treeId: tree.id, reachM: reachMOf(made) })),
  )
  const zones = await queries.exposureZones(session, organisationId, [...new Set([...near.values()].flat())])
  const byId = new Map(zones.map((zone) => [zone.id, zone]))
  const hours = hoursOfZones(zones)
  const rows: Parameters<typeof queries.storeExposure>[3] = []
  const zoneRows: Parameters<typeof queries.storeExposure>[4] = []
  for (const { tree, made } of standing) {
    const result = exposureAround(
      made,
      tree.position,
      (near.get(tree.id) ?? []).map((id) => byId.get(id)!),
      hours,
    )
    const { reachM, joint, densityPerDeg, flags, inputs, methodVersion } = result
    rows.push({
      treeId: tree.id,
      reachM,
      joint,
      density: densityPerDeg,
      flags,
      inputs,
      methodVersion,
      computedAt: now.toISOString(),
    })
    for (const zone of result.zones)
      if (zone.pTouch.most > 0)
        zoneRows.push({
          treeId: tree.id,
          zoneId: zone.id,
          pTouch: zone.pTouch.mean,
          pTouchLeast: zone.pTouch.least,
          pTouchMost: zone.pTouch.most,
          people: zone.people.mean,
          peopleLeast: zone.people.least,
          peopleMost: zone.people.most,
          peopleStem: zone.people.stem,
          peopleCrown: zone.people.crown,
          pAny: zone.pAny,
          touching: zone.touchingBearings.map(({ fromDeg, toDeg }) => [fromDeg, toDeg] as [number, number]),
        })
  }
  await queries.storeExposure(session, organisationId, treeIds, rows, zoneRows)
}

/** What the pictures and the reasons of one tree need, or null where nothing was computed yet. */
export async function exposureView(
  session: Session,
  organisationId: string,
  treeId: string,
  position: Position,
) {
  const stored = await queries.exposureById(session, organisationId, treeId)
  if (!stored) return null
  const { row, zones } = stored
  const inputs = row.inputs as { tree: FallingTree }
  const bearingDeg = likeliest(row.density)
  const plane = planeAt(position[0], position[1])
  return {
    computedAt: row.computedAt,
    methodVersion: row.methodVersion,
    reachM: row.reachM,
    flags: row.flags,
    joint: row.joint,
    density: row.density,
    inputs: row.inputs,
    outlineBearingDeg: bearingDeg,
    outline: outlineAt(inputs.tree, bearingDeg).map(([east, north]) => plane.toDegrees(east, north)),
    zones: zones
      .map(({ row: zone, name, kind, geometry }) => ({
        zoneId: zone.zoneId,
        name,
        kind,
        geometry,
        pTouch: { mean: zone.pTouch, least: zone.pTouchLeast, most: zone.pTouchMost },
        people: {
          mean: zone.people,
          least: zone.peopleLeast,
          most: zone.peopleMost,
          stem: zone.peopleStem,
          crown: zone.peopleCrown,
        },
        pAny: zone.pAny,
        touching: zone.touching.map(([fromDeg, toDeg]) => ({ fromDeg, toDeg })),
      }))
      .sort((a, b) => b.people.mean - a.people.mean || b.pTouch.mean - a.pTouch.mean),
  }
}

/** The bearing towards which the tree is most likely to fall, degrees; the drawing lays it there. */
function likeliest(densityPerDeg: number[]): number {
  const at = densityPerDeg.indexOf(Math.max(...densityPerDeg))
  return (at * 360) / densityPerDeg.length
}
