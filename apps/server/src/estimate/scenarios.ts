import { exposureOfScenario, hoursOfZones, zonesAround } from '@underbough/exposure'
import { treesFrom, zonesFrom, zonesNear } from '../exposure/facts.ts'
import { readTrees, readZones, windRoses } from '../exposure/queries.ts'
import type { Deps } from '../http/context.ts'
import type { JobContext } from '../jobs/jobs.ts'
import { exposurePolicyOf } from '../policy/exposure.ts'
import { type ScenarioPeople, type StaleScenario, staleScenarios, storeScenarios } from './queries.ts'

/** So many scenarios are worked out while a person waits; more are left to a job. */
const AT_ONCE = 200
const CHUNK = 200

/**
 * Works out the people under scenarios that are not the whole tree any way it falls, where the tree's exposure is newer than
 * they are or there are none yet. Answers how many are left to the job that it then starts.
 */
export async function freshenScenarios(
  deps: Deps,
  organisationId: string,
  treeId: string | null,
  personId: string,
): Promise<number> {
  const { stale, total } = await staleScenarios(deps.database.db, organisationId, treeId, AT_ONCE + 1)
  if (total <= AT_ONCE) {
    await work(deps, organisationId, stale)
    return 0
  }
  const open = await deps.jobs.open(organisationId)
  if (!open.some(({ kind }) => kind === 'scenarios'))
    await deps.jobs.start(organisationId, 'scenarios', {}, personId)
  return total
}

/** The job: in chunks that each commit whole, until none is stale. */
export async function freshenAll(deps: Deps, organisationId: string, job: JobContext) {
  let done = 0
  for (;;) {
    const { stale, total } = await staleScenarios(deps.database.db, organisationId, null, CHUNK)
    await job.progress(done, done + total)
    if (stale.length === 0) return
    await work(deps, organisationId, stale)
    done += stale.length
  }
}

async function work(deps: Deps, organisationId: string, stale: readonly StaleScenario[]) {
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
  const hours = hoursOfZones(zones)
  const placeOf = new Map(trees.map(({ id }, i) => [id, i]))
  const rows = stale.map(({ treeId, key, scenario, exposureAt }): ScenarioPeople => {
    const place = placeOf.get(treeId)
    const tree = place === undefined ? undefined : trees[place]
    if (!tree?.falling) return { treeId, key, exposureAt, zones: [] }
    const around = near[place!]!.map((z) => zones[z]!)
    const found = exposureOfScenario(
      tree.falling,
      scenario,
      zonesAround(tree.position, around, hours),
      assumed.policy,
    )
    return {
      treeId,
      key,
      exposureAt,
      zones: found.zones
        .filter(({ people }) => people.most > 0)
        .map(({ id, people: { mean, least, most } }) => ({ zoneId: id, mean, least, most })),
    }
  })
  await storeScenarios(db, organisationId, rows)
}
