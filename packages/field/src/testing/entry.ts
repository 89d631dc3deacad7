import { type KeptEntry, waitingEntry } from '../entry.ts'

/** A waiting entry of L. Sand, with every part open to change. */
export const anEntry = (part: Partial<KeptEntry>): KeptEntry => ({
  seq: 1,
  ...waitingEntry({
    key: `key-${part.seq ?? 1}`,
    kind: 'visit-draft',
    authorId: 'sand',
    subjectId: 'visit',
    treeId: 'tree',
    label: '',
    madeAt: '2026-11-25T08:00:00.000Z',
    clockOffsetMs: null,
    body: {},
  }),
  ...part,
})
