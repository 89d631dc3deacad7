import { randomUUID } from 'node:crypto'
import { availableParallelism } from 'node:os'
import type { Deps } from '../http/context.ts'
import { Cancelled, type JobContext } from '../jobs/jobs.ts'
import * as queries from './pass-queries.ts'
import { solverInThread } from './solvers.ts'
import { tilesOf } from './tiles.ts'
import { reckonAndWrite } from './write.ts'

/** A claim whose mark is this old is a dead process's. */
const STALE_S = 30
const MARK_MS = 5000
const LOOK_MS = 1000
/** One works while another waits for the database. */
const MOST_LANES = availableParallelism() + 1
/** Another thread is worth its start from so many trees on. */
const TREES_A_LANE = 2000

/** Passes that this process works on already. */
const here = new Set<string>()

/**
 * Works out who is under every tree, square by square of the map. Squares are rows that any process may claim, each written whole;
 * begun again after its process died, it goes on with those that are left. Stopped, what is written stays: it is right.
 */
export async function passOverAll(deps: Deps, job: JobContext): Promise<string> {
  const { organisationId, jobId } = job
  const { db, kind } = deps.database
  if (kind === 'embedded') await queries.giveUpClaims(db, organisationId, jobId)
  if (!(await queries.hasTiles(db, organisationId, jobId))) {
    const tiles = await tilesOf(db, organisationId)
    await deps.database.transaction((tx) => queries.insertTiles(tx, organisationId, jobId, tiles))
  }
  try {
    for (;;) {
      await workOnPass(deps, organisationId, jobId, () => tell(deps, job))
      const state = await tell(deps, job)
      if (state.open === 0) {
        await queries.deleteTiles(db, organisationId, jobId)
        return `${state.total} trees, ${state.changed} computed anew.`
      }
      await new Promise((resolve) => setTimeout(resolve, LOOK_MS))
    }
  } catch (error) {
    if (!(error instanceof Cancelled)) throw error
    await queries.deleteTiles(db, organisationId, jobId)
    throw new Cancelled('Stopped by a person. What was computed until then is kept.')
  }
}

async function tell({ database }: Deps, job: JobContext) {
  const state = await queries.passState(database.db, job.organisationId, job.jobId)
  await job.progress(state.done, state.total)
  return state
}

/** Claims and works on squares of a pass until none is left to claim; `after` each it may throw to stop. */
async function workOnPass(deps: Deps, organisationId: string, jobId: string, after: () => Promise<unknown>) {
  if (here.has(jobId)) return
  here.add(jobId)
  let stopped = false
  const lane = async () => {
    const { db } = deps.database
    const me = randomUUID()
    const claim = () => queries.claimTile(db, organisationId, jobId, me, STALE_S)
    let tile = await claim()
    if (!tile) return
    const solver = solverInThread()
    const pulse = setInterval(
      () => void queries.markClaims(db, organisationId, jobId, me).catch(() => {}),
      MARK_MS,
    )
    try {
      for (; tile && !stopped; tile = stopped ? undefined : await claim()) {
        const claimed = tile
        await reckonAndWrite(deps, organisationId, claimed, solver, (tx, { changed }) =>
          queries.finishTile(tx, organisationId, jobId, me, claimed, changed),
        )
        await after()
      }
    } catch (error) {
      stopped = true
      throw error
    } finally {
      clearInterval(pulse)
      await solver.close()
    }
  }
  try {
    const { total, done } = await queries.passState(deps.database.db, organisationId, jobId)
    const count = Math.min(MOST_LANES, Math.ceil((total - done) / TREES_A_LANE))
    const lanes = await Promise.allSettled(Array.from({ length: count }, lane))
    const failed = lanes.find((one) => one.status === 'rejected')
    if (failed) throw failed.reason
  } finally {
    here.delete(jobId)
  }
}

/** Helps with passes that other processes began; answers how to stop. A failure here leaves the square to them. */
export function helpWithPasses(deps: Deps): () => Promise<void> {
  let closing = false
  let helping: Promise<void> = Promise.resolve()
  let busy = false
  const help = async () => {
    for (const { organisationId, jobId } of await queries.openPasses(deps.database.db))
      if (!closing)
        await workOnPass(deps, organisationId, jobId, async () => {
          if (closing) throw new Cancelled()
        })
  }
  const look = setInterval(() => {
    if (busy || closing) return
    busy = true
    helping = help()
      .catch((error) => {
        if (!(error instanceof Cancelled)) console.error('Helping with a pass failed:', error)
      })
      .finally(() => {
        busy = false
      })
  }, LOOK_MS)
  return async () => {
    closing = true
    clearInterval(look)
    await helping
  }
}
