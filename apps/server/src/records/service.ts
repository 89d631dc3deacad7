import type { Session } from '@underbough/db'
import { today, type WalkOverInput } from '@underbough/model'
import { recomputeDue } from '../due/service.ts'
import type { Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { zoneById } from '../zones/queries.ts'
import { countTrees, insertWalkOver } from './queries.ts'

/**
 * Puts a walk-over on record: a limited look at each tree it names, which dates them anew. Storing it twice stores it once.
 * Refused for a zone or tree that is not there, and for a day to come.
 */
export async function keepWalkOver(tx: Session, person: Person, input: WalkOverInput, now: Date) {
  const { organisation, personId } = person
  if (!(await zoneById(tx, organisation.id, input.zoneId)))
    refuse('unknown', 'zoneId', 'There is no such zone.')
  if (input.on > today(organisation.timeZone, now)) refuse('out-of-range', 'on', 'That day has not come yet.')
  const noted = input.notes.map((one) => one.treeId)
  const treeIds = [...new Set([...input.treeIds, ...noted])]
  if ((await countTrees(tx, organisation.id, treeIds)) < treeIds.length)
    refuse('unknown', 'treeIds', 'One of these trees is not in the inventory.')
  if (await insertWalkOver(tx, organisation.id, personId, { ...input, treeIds }))
    await recomputeDue(tx, organisation, treeIds)
}
