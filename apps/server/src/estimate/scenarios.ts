import { startThread } from '@underbough/db'
import { treesFrom, zonesFrom, zonesNear } from '../exposure/facts.ts'
import { readTrees, readZones, windRoses } from '../exposure/queries.ts'
import type { Deps } from '../http/context.ts'
import type { JobContext } from '../jobs/jobs.ts'
import { exposurePolicyOf } from '../policy/exposure.ts'
import { countStale, type StaleScenario, staleAfter, staleOfTree, storeScenarios } from './queries.ts'
import { type ScenarioTask, type ScenarioZones, solveScenarios } from './solver.ts'

/** So many scenarios are worked out on the spot; more are left to a job, which works them out in a thread. */
const ON_THE_SPOT = 10
const CHUNK = 200

type Solve = (task: ScenarioTask) => Promise<ScenarioZones[]>
const here: Solve = async (task) => solveScenarios(task)

/**
 * Works out the people under those scenarios of one tree that are not the whole tree any way it falls, where its
 * exposure follows from something else by now or there are none yet.
 */
export async function freshenTree(deps: Deps, organisationId: string, treeId: string) {
  await work(deps, organisationId, await staleOfTree(deps.database.db, organisationId, treeId), here)
}

/** The same for all trees; answers how many scenarios are left to the job that it then starts. */
export async function freshenAll(deps: Deps, organisationId: string, personId: string): Promise<number> {
  const { db } = deps.database
  const total = await countStale(db, organisationId)
  if (total <= ON_THE_SPOT) {
    await work(deps, organisationId, await staleAfter(db, organisationId, null, ON_THE_SPOT), here)
    return 0
  }
  const open = await deps.jobs.open(organisationId)
  if (!open.some(({ kind }) => kind === 'scenarios'))
    await deps.jobs.start(organisationId, 'scenarios', {}, personId)
  return total
}

/** The job: tree after tree, in chunks that each commit whole; begun again, it goes on with what is stale. */
export async function freshenScenarios(deps: Deps, organisationId: string, job: JobContext) {
  const { db } = deps.database
  const total = await countStale(db, organisationId)
  const thread = openThread()
  try {
    let after: string | null = null
    for (let done = 0; ; ) {
      await job.progress(Math.min(done, total), total)
      const stale = await staleAfter(db, organisationId, after, CHUNK)
      if (stale.length === 0) return
      await work(deps, organisationId, stale, thread.solve)
      // A tree's scenarios may reach over the end of a chunk: what is left of the last one comes next.
      after = stale.length < CHUNK ? stale.at(-1)!.treeId : before(stale)
      done += stale.length
    }
  } finally {
    await thread.close()
  }
}

/** The last tree that surely is done: the one before the chunk's last, where there are several. */
function before(stale: readonly StaleScenario[]): string | null {
  const last = stale.at(-1)!.treeId
  return stale.findLast(({ treeId }) => treeId !== last)?.treeId ?? null
}

function openThread(): { solve: Solve; close(): Promise<unknown> } {
  const thread = startThread(new URL('./solver.ts', import.meta.url))
  return {
    solve: (task) =>
      new Promise((resolve, reject) => {
        thread.once('error', reject)
        thread.once('message', (found: ScenarioZones[]) => {
          thread.off('error', reject)
          resolve(found)
        })
        thread.postMessage(task)
      }),
    close: () => thread.terminate(),
  }
}

async function work(deps: Deps, organisationId: string, stale: readonly StaleScenario[], solve: Solve) {
  if (stale.length === 0) return
  const { db } = deps.database
  const assumed = {
    ...(await exposurePolicyOf(db, organisationId)),
    roses: await windRoses(db, organisationId),
  }
  const treeIds = [...new Set(stale.map(({ treeId }) => treeId))]
  const trees = treesFrom((await readTrees(db, organisationId, { treeIds })).rows, assumed)
  const boxes = trees.flatMap(({ box }) => (box ? [box] : []))
  const zones = zonesFrom((await readZones(db, organisationId, boxes)).rows)
  const near = zonesNear(trees, zones)
  const placeOf = new Map(trees.map(({ id }, i) => [id, i]))
  const found = await solve({
    scenarios: stale.map(({ treeId, scenario }) => {
      const place = placeOf.get(treeId)
      const tree = place === undefined ? undefined : trees[place]
      return {
        scenario,
        falling: tree?.falling ?? null,
        position: tree?.position ?? [0, 0],
        near: place === undefined ? [] : near[place]!,
      }
    }),
    zones,
    policy: assumed.policy,
  })
  await storeScenarios(
    db,
    organisationId,
    stale.map(({ treeId, key, inputsDigest }, i) => ({ treeId, key, inputsDigest, zones: found[i]! })),
  )
}
