import { isDeepStrictEqual } from 'node:util'
import {
  type FoundTreeInput,
  foundFallen,
  type Refusal,
  refusal,
  type TreeInput,
  today,
  treeInput,
} from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { Refused, refuse } from '../http/problem.ts'
import { keepFailure } from '../records/entered.ts'
import { keepBeside } from '../second-versions/service.ts'
import { foundStop } from '../today/day.ts'
import { tagTaken, treeById } from '../trees/queries.ts'
import { addTree, changeTree } from '../trees/service.ts'
import { moved, putRightMs } from './clock.ts'
import type { Handle, When } from './handle.ts'
import { Settled } from './settled.ts'

/** A tree that nobody had on record, with what broke where it was found fallen, and its stop where it comes onto a day. */
export const foundTree: Handle<'found-tree'> = async (deps, author, body, when) => {
  const { id: organisationId } = author.organisation
  if (await treeById(deps.database.db, organisationId, body.id))
    refuse('conflict', 'id', 'Another tree bears this identifier. Nothing was written.')
  const on = dayMade(author, when)
  const { tree: input, notes } = await withFreeTag(deps, organisationId, asFound(body, on))
  const tree = await addTree(deps, author, input, body.id)
  if (body.fallen) {
    const { failureId, part, lies } = body.fallen
    const failure = foundFallen({ id: failureId, treeId: body.id, place: input.position, on, part, lies })
    await keepFailure(deps, author, failure)
  }
  const stop = await foundStop(deps, author, body, body.id, when)
  return new Settled({ tree, stop }, 'taken', notes)
}

const dayMade = ({ organisation }: Person, { madeAt, clockOffsetMs, receivedAt }: When) => {
  const at = Math.min(Date.parse(moved(madeAt, putRightMs(clockOffsetMs))), Date.parse(receivedAt))
  return today(organisation.timeZone, new Date(at))
}

/** A whole tree that lies on the ground stands no more; where only a part broke, the person has said what is left. */
const asFound = ({ tree, fallen }: FoundTreeInput, on: string): TreeInput =>
  fallen?.part === 'whole-tree' && tree.status !== 'stump'
    ? { ...tree, status: 'gone', goneOn: tree.goneOn ?? on }
    : tree

/** Two crews without signal may give one tag to two trees: the later one's is made longer, so that both are kept. */
async function withFreeTag(deps: Deps, organisationId: string, tree: TreeInput) {
  const notes: Refusal[] = []
  let { tag } = tree
  for (let n = 2; await tagTaken(deps.database.db, organisationId, tag, null); n++)
    tag = `${tree.tag.slice(0, 50)} (${n})`
  if (tag !== tree.tag)
    notes.push(
      refusal('tag-repeated', 'tree.tag', {
        value: tree.tag,
        message: `The tag “${tree.tag}” stands on another tree; this one became “${tag}”.`,
      }),
    )
  return { tree: { ...tree, tag }, notes }
}

/** Writes a changed tree. Where somebody else changed it first, nothing is overwritten: both versions wait for the office to choose. */
export const treeChange: Handle<'tree-change'> = async (deps, author, { treeId, version, tree }, when) => {
  try {
    return await changeTree(deps, author, treeId, version, tree)
  } catch (error) {
    const overtaken = error instanceof Refused && error.refusals.some((one) => one.path === 'version')
    if (!overtaken) throw error
  }
  const stored = (await treeById(deps.database.db, author.organisation.id, treeId))!
  // What a form leaves out stays as it is.
  if (isDeepStrictEqual(treeInput.parse(stored), { ...tree, slope: tree.slope ?? stored.slope }))
    return stored
  const secondVersionId = await keepBeside(deps, author, { treeId, version, tree }, when)
  return new Settled({ current: stored, secondVersionId }, 'beside')
}
