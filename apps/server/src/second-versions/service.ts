import { randomUUID } from 'node:crypto'
import { isDeepStrictEqual } from 'node:util'
import { type Tree, type TreeChangeInput, type TreeInput, treeInput } from '@underbough/model'
import { moved, putRightMs } from '../entries/clock.ts'
import type { When } from '../entries/handle.ts'
import { withinTransaction } from '../entries/within.ts'
import { conflict } from '../http/conflict.ts'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { treeById } from '../trees/queries.ts'
import { changeTree } from '../trees/service.ts'
import * as queries from './queries.ts'

export type Side = 'stored' | 'offered'
/** One side whole, or a side for each field; a field without one stays as it is stored. */
export type Take = Side | Partial<Record<keyof TreeInput, Side>>

/** Keeps a version that came after somebody else had changed the record; answers its identifier. */
export async function keepBeside(
  deps: Deps,
  author: Person,
  { treeId, version, tree }: TreeChangeInput,
  when: When,
): Promise<string> {
  const id = randomUUID()
  await queries.insertSecondVersion(deps.database.db, {
    organisationId: author.organisation.id,
    id,
    kind: 'tree',
    subjectId: treeId,
    fromVersion: version,
    offered: tree,
    personId: author.personId,
    madeAt: moved(when.madeAt, putRightMs(when.clockOffsetMs)),
    receivedAt: when.receivedAt,
    state: 'open',
  })
  return id
}

/** Versions that wait for a choice, or all there ever were, each with the record as it is stored. */
export async function versionsBeside(deps: Deps, person: Person, openOnly: boolean) {
  const { db } = deps.database
  const versions = await queries.secondVersions(db, person.organisation.id, openOnly)
  const stored = new Map<string, Tree>()
  for (const id of new Set(versions.map((one) => one.subjectId)))
    stored.set(id, (await treeById(db, person.organisation.id, id))!)
  return versions.map((version) => ({ version, stored: stored.get(version.subjectId)! }))
}

/**
 * Writes what was chosen of two versions as the record's next version, and keeps what the record was before. `version` is that of the
 * stored record as the person saw it; refused with the present one where it has changed since.
 */
export async function choose(
  deps: Deps,
  person: Person,
  id: string,
  take: Take,
  version: number,
): Promise<Tree> {
  const organisationId = person.organisation.id
  const { tree, afterCommit } = await deps.database.transaction(async (tx) => {
    const found =
      (await queries.lockSecondVersion(tx, organisationId, id)) ??
      refuse('unknown', 'id', 'There is no such version.')
    if (found.state === 'chosen')
      refuse('conflict', 'id', `${found.chosenBy} has chosen between these versions already.`)
    const stored = (await treeById(tx, organisationId, found.subjectId))!
    if (stored.version !== version) conflict(stored)
    const replaced = treeInput.parse(stored)
    const chosen = merged(replaced, treeInput.parse(found.offered), take)
    const bound = withinTransaction(deps, tx)
    await queries.closeSecondVersion(tx, organisationId, id, {
      chosenBy: person.name,
      chosenAt: deps.now().toISOString(),
      replaced,
    })
    const tree = isDeepStrictEqual(chosen, replaced)
      ? stored
      : await changeTree(bound.deps, person, stored.id, version, chosen)
    return { tree, afterCommit: bound.afterCommit }
  })
  await afterCommit()
  return tree
}

function merged(stored: TreeInput, offered: TreeInput, take: Take): TreeInput {
  if (typeof take === 'string') return take === 'stored' ? stored : offered
  const fields = Object.entries(take).filter(([, side]) => side === 'offered')
  return { ...stored, ...Object.fromEntries(fields.map(([key]) => [key, offered[key as keyof TreeInput]])) }
}
