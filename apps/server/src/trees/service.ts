import { randomUUID } from 'node:crypto'
import { type TreeInput, today } from '@underbough/model'
import { recomputeDue } from '../due/service.ts'
import { doSoon } from '../exposure/service.ts'
import { conflict } from '../http/conflict.ts'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import * as queries from './queries.ts'

/** A new tree, dated at once, and who is under it. `id` is given where a device has made it. */
export async function addTree(deps: Deps, person: Person, input: TreeInput, id: string = randomUUID()) {
  const { organisation, personId } = person
  const jobId = await deps.database.transaction(async (tx) => {
    if (await queries.tagTaken(tx, organisation.id, input.tag, null)) refuseTag(input.tag)
    await queries.insertTree(tx, organisation.id, id, input, today(organisation.timeZone, deps.now()))
    await recomputeDue(tx, organisation, [id])
    return deps.jobs.store(tx, organisation.id, 'exposure', { treeIds: [id] }, personId)
  })
  await doSoon(deps, organisation.id, jobId, [id])
  return (await queries.treeById(deps.database.db, organisation.id, id))!
}

/** Writes a changed tree; refused with the stored one where somebody else changed it first. */
export async function changeTree(deps: Deps, person: Person, id: string, version: number, input: TreeInput) {
  const { organisation, personId } = person
  const jobId = await deps.database.transaction(async (tx) => {
    const stored =
      (await queries.treeById(tx, organisation.id, id)) ?? refuse('unknown', 'id', 'There is no such tree.')
    if (await queries.tagTaken(tx, organisation.id, input.tag, id)) refuseTag(input.tag)
    if (!(await queries.updateTree(tx, organisation.id, id, version, input))) conflict(stored)
    await recomputeDue(tx, organisation, [id])
    return deps.jobs.store(tx, organisation.id, 'exposure', { treeIds: [id] }, personId)
  })
  await doSoon(deps, organisation.id, jobId, [id])
  return (await queries.treeById(deps.database.db, organisation.id, id))!
}

function refuseTag(tag: string): never {
  refuse('conflict', 'tag', `Another tree bears the tag ${tag}. Choose one that is free.`, { value: tag })
}
