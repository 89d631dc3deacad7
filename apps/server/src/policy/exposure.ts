import type { Session } from '@underbough/db'
import { defaultExposurePolicy, type ExposurePolicy, readExposurePolicy } from '@underbough/exposure'
import { conflict } from '../http/conflict.ts'
import type { Deps, Person } from '../http/context.ts'
import { exposureEditions, insertExposureEdition } from './queries.ts'

/** What exposure assumes in this organisation, and which edition that is: 0 while it goes by the starting figures. */
export interface ExposureEdition {
  edition: number
  policy: ExposurePolicy
}

/** The edition in force. Every figure of who is under a tree is computed by it and names it. */
export async function exposurePolicyOf(session: Session, organisationId: string): Promise<ExposureEdition> {
  const [newest] = await exposureEditions(session, organisationId, 1)
  if (!newest) return { edition: 0, policy: defaultExposurePolicy }
  return { edition: newest.edition, policy: readExposurePolicy(newest.content) }
}

const SHOWN_EDITIONS = 50

/** The edition in force with those before it: who made each, when and why. */
export async function exposurePolicyView(session: Session, organisationId: string) {
  const editions = await exposureEditions(session, organisationId, SHOWN_EDITIONS)
  return {
    ...(await exposurePolicyOf(session, organisationId)),
    editions: editions.map(({ edition, reason, madeBy, madeAt }) => ({
      edition,
      reason,
      madeBy: madeBy ?? '',
      madeAt,
    })),
  }
}

/**
 * Adds the edition after `version`, and starts the computing of every tree anew by it: both are stored, or neither. Refused where
 * somebody else made that edition first.
 */
export async function changeExposurePolicy(
  deps: Deps,
  { organisation: { id: organisationId }, personId }: Person,
  change: { version: number; policy: ExposurePolicy; reason: string },
) {
  const jobId = await deps.database.transaction(async (tx) => {
    const row = {
      edition: change.version + 1,
      content: change.policy,
      reason: change.reason,
      madeBy: personId,
      madeAt: deps.now().toISOString(),
    }
    const stored = await exposurePolicyOf(tx, organisationId)
    const current = { ...stored, version: stored.edition }
    if (stored.edition !== change.version) conflict(current)
    if (!(await insertExposureEdition(tx, organisationId, row))) conflict(current)
    return deps.jobs.store(tx, organisationId, 'exposure', { treeIds: null }, personId)
  })
  await deps.jobs.queue(organisationId, jobId)
  return { ...(await exposurePolicyView(deps.database.db, organisationId)), jobId }
}
