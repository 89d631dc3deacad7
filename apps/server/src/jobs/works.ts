import type { Organisation } from '@underbough/model'
import { recomputeDue } from '../due/service.ts'
import { freshenScenarios } from '../estimate/scenarios.ts'
import { passOverAll, recomputeExposure } from '../exposure/service.ts'
import { settleAll } from '../hotspots/settle.ts'
import type { Deps } from '../http/context.ts'
import { readImport } from '../imports/read.ts'
import { writeImport } from '../imports/write.ts'
import { makePlan } from '../plans/make.ts'
import { type Asked, deletePlan } from '../plans/queries.ts'
import { organisationById } from '../session/queries.ts'
import type { JobContext, JobWork } from './jobs.ts'

/** Trees by their identifiers, or all of the organisation. */
type TreeSet = { treeIds: string[] | null }

/** What each kind of job does. Each may be begun again after its process died, and ends in the same records. */
export function works(deps: Deps): Record<string, JobWork> {
  const organisation = async (job: JobContext): Promise<Organisation> =>
    organisationById(deps.database.db, job.organisationId)
  return {
    async due({ treeIds }: TreeSet, job) {
      const of = await organisation(job)
      await deps.database.transaction((tx) => recomputeDue(tx, of, treeIds))
      return undefined
    },
    async exposure({ treeIds }: TreeSet, job) {
      if (treeIds === null) return passOverAll(deps, job)
      await recomputeExposure(deps, job.organisationId, treeIds, job)
      return undefined
    },
    async hotspots(_: object, job) {
      await settleAll(deps, await organisation(job), job)
      return undefined
    },
    async scenarios(_: object, job) {
      await freshenScenarios(deps, job.organisationId, job)
      return undefined
    },
    'import-read': ({ importId }: { importId: string }, job) => readImport(deps, importId, job),
    'import-write': ({ importId, personId }: { importId: string; personId: string }, job) =>
      writeImport(deps, importId, personId, job),
    async plan({ planId, asked }: { planId: string; asked: Asked }, job) {
      try {
        return await makePlan(deps, await organisation(job), planId, asked, job)
      } catch (error) {
        await deletePlan(deps.database.db, job.organisationId, planId)
        throw error
      }
    },
  }
}
