import { createHash } from 'node:crypto'
import { type Session, startThread } from '@underbough/db'
import {
  angleFromBearing,
  densityAt,
  type Exposure,
  type ExposureFlag,
  type ExposurePolicy,
  type FallingTree,
  fallingTreeOn,
  flagCodes,
  flagsOfBits,
  likeliestOutline,
  lobesOf,
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
  ...figuresOf(figure.joint),
  flags: bitsOfFlags(figure.flags),
  inputsDigest: createHash('sha256').update(JSON.stringify(figure.inputs)).digest('hex').slice(0, 32),
  policyEdition,
  methodVersion: figure.methodVersion,
  computedAt,
})

const bitsOfFlags = (flags: readonly ExposureFlag[]) =>
  flags.reduce((bits, { code }) => bits | (1 << flagCodes.indexOf(code)), 0)

const figuresOf = ({ pTouch, people, pAny, pAnyRange }: Exposure) => ({
  pTouch: pTouch.mean,
  pTouchLeast: pTouch.least,
  pTouchMost: pTouch.most,
  people: people.mean,
  peopleLeast: people.least,
  peopleMost: people.most,
  peopleStem: people.stem,
  peopleCrown: people.crown,
  peopleScatter: people.scatter,
  pAny,
  pAnyLeast: pAnyRange.least,
  pAnyMost: pAnyRange.most,
})

const zoneRowsOf = (treeId: string, figure: TreeExposure) =>
  figure.zones
    .filter((zone) => zone.pTouch.most > 0)
    .map((zone) => ({
      treeId,
      zoneId: zone.id,
      ...figuresOf(zone),
      groundStem: zone.groundWithin.stem,
      groundCrown: zone.groundWithin.crown,
      flags: bitsOfFlags(zone.flags),
      touching: zone.touchingBearings.flatMap(({ fromDeg, toDeg }) => [fromDeg, toDeg]),
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
  const { policy } = await exposurePolicyOf(session, organisationId)
  const [tree] = await queries.exposureTrees(session, organisationId, [treeId])
  const falling = tree && fallingTreeOn(tree, tree.windRose)
  if (!falling) return null
  const density = densityPerDegOf(falling, policy)
  return {
    computedAt: row.computedAt,
    methodVersion: row.methodVersion,
    reachM: row.reachM,
    flags: flagsOfBits(row.flags).map((code) => ({
      code,
      zoneIds: zones
        .filter(({ row: zone }) => zone.flags & (1 << flagCodes.indexOf(code)))
        .map(({ row: zone }) => zone.zoneId),
    })),
    joint: shown(row),
    density,
    inputs: { tree: falling, policy, policyEdition: row.policyEdition, zones: [] },
    ...likeliestOutline(falling, position, density, policy),
    zones: zones
      .map(({ row: zone, name, kind, geometry }) => ({
        zoneId: zone.zoneId,
        name,
        kind,
        geometry,
        ...shown(zone),
        touching: pairsOf(zone.touching),
      }))
      .sort((a, b) => b.people.mean - a.people.mean || b.pTouch.mean - a.pTouch.mean),
  }
}

type Stored = Omit<ReturnType<typeof figuresOf>, never>
const shown = (row: Stored) => ({
  pTouch: { mean: row.pTouch, least: row.pTouchLeast, most: row.pTouchMost },
  people: {
    mean: row.people,
    least: row.peopleLeast,
    most: row.peopleMost,
    stem: row.peopleStem,
    crown: row.peopleCrown,
    scatter: row.peopleScatter,
  },
  pAny: row.pAny,
  pAnyRange: { least: row.pAnyLeast, most: row.pAnyMost },
})
const pairsOf = (flat: readonly number[]) =>
  Array.from({ length: flat.length / 2 }, (_, i) => ({ fromDeg: flat[2 * i]!, toDeg: flat[2 * i + 1]! }))

const DENSITY_SAMPLES = 72
const densityPerDegOf = (tree: FallingTree, policy: ExposurePolicy) => {
  const lobes = lobesOf(tree, policy)
  return Array.from(
    { length: DENSITY_SAMPLES },
    (_, i) => (densityAt(lobes, angleFromBearing((i * 360) / DENSITY_SAMPLES)) * Math.PI) / 180,
  )
}
