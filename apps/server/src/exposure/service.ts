import { type Session, startThread } from '@underbough/db'
import {
  type ExposurePolicy,
  type FallingTree,
  fallingTreeOn,
  likeliestOutline,
  searchM,
  type TreeExposure,
} from '@underbough/exposure'
import type { Position } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import type { JobContext } from '../jobs/jobs.ts'
import { exposurePolicyOf } from '../policy/exposure.ts'
import * as queries from './queries.ts'
import { type ExposureTask, solveExposure } from './solver.ts'

const CHUNK = 200
/** Up to here the figures are quicker to work out on the spot than to send to a thread. */
const FEW_TREES = 10

type Solve = (task: ExposureTask) => Promise<TreeExposure[]>

/**
 * Recomputes who is under these trees, or under all (`null`), in chunks that each commit whole: a job that died half-way and
 * is begun again writes the same figures. Many trees are worked out in a thread, so that the office stays open meanwhile.
 */
export async function recomputeExposure(
  deps: Deps,
  organisationId: string,
  treeIds: string[] | null,
  job?: JobContext,
) {
  const ids = treeIds ?? (await queries.allTreeIds(deps.database.db, organisationId))
  const thread = ids.length > FEW_TREES ? openThread() : null
  const solve: Solve = thread?.solve ?? (async (task) => solveExposure(task))
  try {
    for (let at = 0; at < ids.length; at += CHUNK) {
      await job?.progress(at, ids.length)
      await recomputeChunk(deps, organisationId, ids.slice(at, at + CHUNK), solve)
    }
    await job?.progress(ids.length, ids.length)
  } finally {
    await thread?.close()
  }
}

function openThread(): { solve: Solve; close(): Promise<unknown> } {
  const thread = startThread(new URL('./solver.ts', import.meta.url))
  return {
    solve: (task) =>
      new Promise((resolve, reject) => {
        thread.once('error', reject)
        thread.once('message', (figures: TreeExposure[]) => {
          thread.off('error', reject)
          resolve(figures)
        })
        thread.postMessage(task)
      }),
    close: () => thread.terminate(),
  }
}

/** Reads, works out, and writes in one transaction; a tree changed meanwhile has its own job behind this one. */
async function recomputeChunk(deps: Deps, organisationId: string, treeIds: string[], solve: Solve) {
  const { db } = deps.database
  const { edition, policy } = await exposurePolicyOf(db, organisationId)
  const standing = (await queries.exposureTrees(db, organisationId, treeIds)).flatMap((tree) => {
    const made = fallingTreeOn(tree, tree.windRose)
    return made ? [{ tree, made }] : []
  })
  const searched = standing.map(({ tree, made }) => ({ treeId: tree.id, withinM: searchM(made, policy) }))
  const near = await queries.zonesWithin(db, organisationId, searched)
  const zones = await queries.exposureZones(db, organisationId, [...new Set([...near.values()].flat())])
  const figures = await solve({
    trees: standing.map(({ tree, made }) => ({
      made,
      position: tree.position,
      zoneIds: near.get(tree.id) ?? [],
    })),
    zones,
    policy,
  })
  const computedAt = deps.now().toISOString()
  const rows = figures.map((figure, i) => exposureRow(standing[i]!.tree.id, figure, edition, computedAt))
  const zoneRows = figures.flatMap((figure, i) => zoneRowsOf(standing[i]!.tree.id, figure))
  await deps.database.transaction((tx) => queries.storeExposure(tx, organisationId, treeIds, rows, zoneRows))
}

const exposureRow = (treeId: string, figure: TreeExposure, policyEdition: number, computedAt: string) => ({
  treeId,
  reachM: figure.reachM,
  joint: figure.joint,
  density: figure.densityPerDeg,
  flags: figure.flags,
  inputs: { ...figure.inputs, policyEdition },
  methodVersion: figure.methodVersion,
  computedAt,
})

const zoneRowsOf = (treeId: string, figure: TreeExposure) =>
  figure.zones
    .filter((zone) => zone.pTouch.most > 0)
    .map((zone) => ({
      treeId,
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
    }))

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
  const inputs = row.inputs as { tree: FallingTree; policy: ExposurePolicy }
  return {
    computedAt: row.computedAt,
    methodVersion: row.methodVersion,
    reachM: row.reachM,
    flags: row.flags,
    joint: row.joint,
    density: row.density,
    inputs: row.inputs,
    ...likeliestOutline(inputs.tree, position, row.density, inputs.policy),
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
