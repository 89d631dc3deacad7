import type { EntryBody, OccupancyWord, Tree } from '@underbough/model'
import { device } from '../keep/device.ts'
import { dayAtOffice } from './kept.ts'
import type { TreeWhole } from './types.ts'

/** The records of a tree without a past. */
export function newWhole(tree: Tree, zoneUse: OccupancyWord | null): TreeWhole {
  return {
    tree,
    due: null,
    dueParts: [],
    risk: null,
    seen: false,
    ratingOpen: false,
    overdueDays: 0,
    rating: null,
    ratings: [],
    visits: [],
    works: [],
    urgentNotes: [],
    failures: [],
    photos: [],
    events: [],
    walkOvers: [],
    dueBasis: { enteredOn: tree.createdAt.slice(0, 10), zoneUse, baselineShare: null },
  }
}

/** A tree that was met on the way, from its entry on this device, with what broke on it; null where none bears this identifier. */
export async function foundHere(treeId: string): Promise<TreeWhole | null> {
  const entries = await device.entries.where({ subjectId: treeId }).toArray()
  const entry = entries.find(({ kind }) => kind === 'found-tree')
  if (!entry) return null
  const { tree: input, fallen } = entry.body as EntryBody<'found-tree'>
  const { madeAt } = entry
  // As the office will put it on record: a whole tree that lies on the ground stands no more.
  const standing =
    fallen?.part === 'whole-tree' && input.status !== 'stump'
      ? { ...input, status: 'gone' as const, goneOn: input.goneOn ?? dayAtOffice(new Date(madeAt)) }
      : input
  const stamps = {
    slope: input.slope ?? null,
    sourceKey: null,
    version: 1,
    createdAt: madeAt,
    updatedAt: madeAt,
  }
  return { ...newWhole({ ...standing, id: treeId, ...stamps }, null), onlyHere: true }
}
