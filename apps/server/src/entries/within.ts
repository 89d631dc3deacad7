import type { Db, Session } from '@underbough/db'
import type { Deps } from '../http/context.ts'

/**
 * The same program bound to an open transaction: its services write in it, and their own transactions are part of it. Jobs are stored
 * in it too and begin once `afterCommit` is called.
 */
export function withinTransaction(deps: Deps, tx: Session): { deps: Deps; afterCommit(): Promise<void> } {
  const stored: [organisationId: string, jobId: string][] = []
  const start: Deps['jobs']['start'] = async (organisationId, ...job) => {
    const id = await deps.jobs.store(tx, organisationId, ...job)
    stored.push([organisationId, id])
    return id
  }
  const startWith: Deps['jobs']['startWith'] = async (
    organisationId,
    kind,
    input,
    personId,
    subjectId,
    change,
  ) => {
    await change(tx)
    return start(organisationId, kind, input, personId, subjectId)
  }
  const later: Deps['jobs']['atOnce'] = async (organisationId, jobId) => {
    stored.push([organisationId, jobId])
  }
  return {
    deps: {
      ...deps,
      database: { ...deps.database, db: tx as unknown as Db, transaction: (work) => work(tx) },
      jobs: { ...deps.jobs, start, startWith, queue: later, atOnce: later },
    },
    async afterCommit() {
      // A job that cannot be handed over now is found by the next look for stranded ones.
      for (const job of stored)
        await deps.jobs.queue(...job).catch((error: Error) => console.error('A job waits:', error.message))
    },
  }
}
