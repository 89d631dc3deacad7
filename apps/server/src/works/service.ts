import type { Work, WorkInput, WorkState } from '@underbough/model'
import { recomputeDue } from '../due/service.ts'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { lockTree } from '../visits/queries.ts'
import * as queries from './queries.ts'

/** Writes a work and dates its tree anew in one transaction; answers the work as it now stands. */
async function changing(
  deps: Deps,
  person: Person,
  id: string,
  change: (work: Work) => Parameters<typeof queries.updateWork>[3],
): Promise<Work> {
  const organisationId = person.organisation.id
  return deps.database.transaction(async (tx) => {
    const stored =
      (await queries.workById(tx, organisationId, id)) ?? refuse('unknown', 'id', 'There is no such work.')
    await queries.updateWork(tx, organisationId, id, change(stored))
    await recomputeDue(tx, person.organisation, [stored.treeId])
    return (await queries.workById(tx, organisationId, id))!
  })
}

export async function proposeWork(deps: Deps, person: Person, input: WorkInput): Promise<Work> {
  return deps.database.transaction(async (tx) => {
    if (!(await lockTree(tx, person.organisation.id, input.treeId)))
      refuse('unknown', 'treeId', 'There is no such tree.')
    await queries.insertWork(tx, person.organisation.id, input)
    await recomputeDue(tx, person.organisation, [input.treeId])
    return (await queries.workById(tx, person.organisation.id, input.id))!
  })
}

export const setWorkState = (
  deps: Deps,
  person: Person,
  id: string,
  to: { state: WorkState; doneOn: string | null; doneBy: string | null },
) =>
  changing(deps, person, id, () => {
    if (to.state === 'done' && !to.doneOn) refuse('required', 'doneOn', 'Say on which day the work was done.')
    return { ...to, doneOn: to.state === 'done' ? to.doneOn : null }
  })

/** The owner's answer to a recommendation. A deferred one keeps its work proposed; a refused one treats nothing. */
export const decide = (deps: Deps, person: Person, id: string, decision: NonNullable<Work['decision']>) =>
  changing(deps, person, id, (stored) => ({
    decision,
    state:
      stored.state === 'done'
        ? 'done'
        : ({ accepted: 'approved', refused: 'refused', deferred: 'proposed' } as const)[decision.answer],
  }))
