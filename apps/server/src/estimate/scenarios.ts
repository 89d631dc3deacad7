import { exposureOfScenario, fallingTreeOn, hoursOfZones, searchM, zonesAround } from '@underbough/exposure'
import { exposureTrees, exposureZones, zonesWithin } from '../exposure/queries.ts'
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
  const { policy } = await exposurePolicyOf(db, organisationId)
  const ids = [...new Set(stale.map(({ treeId }) => treeId))]
  const trees = (await exposureTrees(db, organisationId, ids)).flatMap((tree) => {
    const made = fallingTreeOn(tree, tree.windRose)
    return made ? [{ id: tree.id, position: tree.position, made }] : []
  })
  const searched = trees.map(({ id, made }) => ({ treeId: id, withinM: searchM(made, policy) }))
  const near = await zonesWithin(db, organisationId, searched)
  const zones = await exposureZones(db, organisationId, [...new Set([...near.values()].flat())])
  const byId = new Map(zones.map((zone) => [zone.id, zone]))
  const hours = hoursOfZones(zones)
  const treeOf = new Map(trees.map((tree) => [tree.id, tree]))
  const rows = stale.map(({ treeId, key, scenario, exposureAt }): ScenarioPeople => {
    const tree = treeOf.get(treeId)
    if (!tree) return { treeId, key, exposureAt, zones: [] }
    const around = (near.get(treeId) ?? []).map((id) => byId.get(id)!)
    const found = exposureOfScenario(tree.made, scenario, zonesAround(tree.position, around, hours), policy)
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
