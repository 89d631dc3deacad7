import type { Deps } from '../http/context.ts'
import type { JobContext } from '../jobs/jobs.ts'
import { byPlace } from './queries.ts'
import { solverHere, solverInThread } from './solvers.ts'
import { reckonAndWrite } from './write.ts'

export { passOverAll } from './pass.ts'
export { exposureView } from './view.ts'

const CHUNK = 1000
/** Up to here the figures are quicker to work out on the spot than to send to a thread. */
const FEW_TREES = 50

/**
 * Works out anew who is under these trees, in chunks that each commit whole: begun again, it writes the same figures. Many are
 * worked out in a thread, so that the office stays open meanwhile.
 */
export async function recomputeExposure(
  deps: Deps,
  organisationId: string,
  treeIds: readonly string[],
  job?: JobContext,
) {
  const ids = treeIds.length > CHUNK ? await byPlace(deps.database.db, organisationId, treeIds) : treeIds
  const solver = ids.length > FEW_TREES ? solverInThread() : solverHere()
  try {
    for (let at = 0; at < ids.length; at += CHUNK) {
      await job?.progress(at, ids.length)
      await reckonAndWrite(deps, organisationId, { treeIds: ids.slice(at, at + CHUNK) }, solver)
    }
    await job?.progress(ids.length, ids.length)
  } finally {
    await solver.close()
  }
}

/** As many as are worked out before a change is answered; more are left to the workers. */
const AT_ONCE = 400

/** Does the stored job of a change that is committed: at once where it concerns few trees, so that who made the change sees what follows. */
export const doSoon = (deps: Deps, organisationId: string, jobId: string, treeIds: readonly string[]) =>
  treeIds.length > AT_ONCE ? deps.jobs.queue(organisationId, jobId) : deps.jobs.atOnce(organisationId, jobId)
