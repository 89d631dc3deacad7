import { type FailureInput, type TreeEventInput, today } from '@underbough/model'
import { type EventKind, eventKinds } from '@underbough/rating'
import { policyOf, recomputeDue } from '../due/service.ts'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { treeLines } from '../trees/queries.ts'
import { lockTree } from '../visits/queries.ts'
import { insertEvent, insertFailure } from './queries.ts'

const another = 'Another record bears this identifier. What was entered is never edited: make a new one.'

/** Puts a failure or near miss on record, at a tree or at a place without one. Storing it twice stores it once. */
export async function keepFailure(deps: Deps, person: Person, input: FailureInput) {
  const { organisation } = person
  const { treeId } = input
  if (!treeId && !input.place)
    refuse('required', 'place', 'Name the tree, or the place where no tree is on record.')
  if (input.on > today(organisation.timeZone, deps.now()))
    refuse('out-of-range', 'on', 'That day has not come yet.')
  if (treeId && !(await treeLines(deps.database.db, organisation.id, [treeId])).has(treeId))
    refuse('unknown', 'treeId', 'There is no such tree.')
  const stored = await insertFailure(deps.database.db, organisation.id, input)
  if (stored.treeId !== treeId || stored.on !== input.on || stored.note !== input.note)
    refuse('conflict', 'id', another)
}

/** Puts an event on record and dates the tree's next look anew; the policy says how soon where the event does not. */
export async function keepEvent(deps: Deps, person: Person, input: TreeEventInput) {
  const { organisation } = person
  const kind = eventKinds.find((known): known is EventKind => known === input.kind)
  if (!kind)
    refuse('malformed', 'kind', `No event is named “${input.kind}”. Known are: ${eventKinds.join(', ')}.`)
  await deps.database.transaction(async (tx) => {
    if (!(await lockTree(tx, organisation.id, input.treeId)))
      refuse('unknown', 'treeId', 'There is no such tree.')
    const policy = await policyOf(tx, organisation.id)
    const lookWithinDays = input.lookWithinDays ?? policy.events[kind].withinDays
    const stored = await insertEvent(tx, organisation.id, { ...input, kind, lookWithinDays })
    if (stored.treeId !== input.treeId || stored.on !== input.on || stored.kind !== kind)
      refuse('conflict', 'id', another)
    await recomputeDue(tx, organisation, [input.treeId])
  })
}
