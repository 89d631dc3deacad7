import type { KeptEntry } from '@underbough/field'
import { type EntryBody, type Tree, type TreeInput, treeInput } from '@underbough/model'
import { device, enter, useLive, whileNothingGoes } from '../keep/index.ts'
import { changedFields, differences, merged, type TreeField } from './conflict.ts'

type Change = EntryBody<'tree-change'>
const isChange = (treeId: string, authorId: string) => (entry: KeptEntry) =>
  entry.kind === 'tree-change' && entry.treeId === treeId && entry.authorId === authorId

/** A change of a tree's record that is still on this device. */
export interface WaitingChange {
  body: Change
  entry: KeptEntry
}

/** This person's change of a tree's record that the office has not taken; null for none. */
export async function waitingChange(treeId: string, authorId: string): Promise<WaitingChange | null> {
  const its = await device.entries.where({ treeId }).filter(isChange(treeId, authorId)).sortBy('seq')
  const entry = its.findLast(({ state }) => state !== 'sent')
  return entry ? { entry, body: entry.body as Change } : null
}
export const useWaitingChange = (treeId: string, authorId: string): WaitingChange | null =>
  useLive<WaitingChange | null>(`change ${treeId} ${authorId}`, () => waitingChange(treeId, authorId), null)

/**
 * Keeps a change on this device; it goes to the office by itself. It takes the place of an earlier one that has not gone, so that a person
 * never stands against themselves; the version it was made from is the newest this device knows of.
 */
export const keepChange = (tree: Tree, input: TreeInput, authorId: string): Promise<void> =>
  whileNothingGoes(() =>
    device.transaction('rw', device.entries, device.remembered, () => putChange(tree, input, authorId)),
  )

/** `keepChange` within a transaction over `entries` and `remembered`, while nothing goes. */
export async function putChange(tree: Tree, input: TreeInput, authorId: string): Promise<void> {
  const its = await device.entries
    .where({ treeId: tree.id })
    .filter(isChange(tree.id, authorId))
    .sortBy('seq')
  const unsent = its.filter(({ state }) => state !== 'sent')
  const body = unsent[0]
    ? { version: (unsent[0].body as Change).version, tree: input }
    : builtOn(newestKnown(tree, its), tree, input)
  await device.entries.bulkDelete(unsent.map(({ seq }) => seq))
  await enter(
    'tree-change',
    { treeId: tree.id, version: body.version, tree: treeInput.parse(body.tree) },
    {
      authorId,
      subjectId: tree.id,
      treeId: tree.id,
      label: `Record of ${tree.tag} ${tree.commonName ?? tree.species}`,
    },
  )
}

/** What the office answered to an earlier change counts where the tree on this device is older. */
function newestKnown(tree: Tree, sent: readonly KeptEntry[]): Tree {
  const answers = sent.filter(({ beside }) => !beside).map(({ answer }) => answer as Tree | null)
  return answers.reduce<Tree>(
    (newest, answer) =>
      typeof answer?.version === 'number' && answer.version > newest.version ? answer : newest,
    tree,
  )
}

/** Only what the person changed on the record that was shown is laid on the newest: an earlier change of theirs is not taken back. */
function builtOn(newest: Tree, shown: Tree, input: TreeInput): { version: number; tree: TreeInput } {
  if (newest === shown) return { version: shown.version, tree: input }
  const [base, theirs] = [treeInput.parse(shown), treeInput.parse(newest)]
  return { version: newest.version, tree: merged(theirs, differences(base, input, theirs)) }
}

/** Fields that a waiting change says otherwise than the record this device knows. */
export const changedIn = (tree: Tree, { body }: WaitingChange): TreeField[] =>
  changedFields(treeInput.parse(tree), treeInput.parse(body.tree))
