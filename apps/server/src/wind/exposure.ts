import type { Session } from '@underbough/db'
import type { Deps, Person } from '../http/context.ts'
import { standingOnSite } from './queries.ts'

/**
 * Stores the job that computes a site's trees anew after its rose changed, for `jobs.queue` once the change is committed;
 * null where no tree stands there.
 */
export async function exposureAfterRose(
  tx: Session,
  deps: Deps,
  person: Person,
  siteId: string,
): Promise<string | null> {
  const treeIds = await standingOnSite(tx, person.organisation.id, siteId)
  if (treeIds.length === 0) return null
  return deps.jobs.store(tx, person.organisation.id, 'exposure', { treeIds }, person.personId, siteId)
}
