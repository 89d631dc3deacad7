import type { KeptEntry } from '../entry.ts'

/** A waiting entry of L. Sand, with every part open to change. */
export const anEntry = (part: Partial<KeptEntry>): KeptEntry => ({
  seq: 1,
  key: `key-${part.seq ?? 1}`,
  kind: 'visit-draft',
  authorId: 'sand',
  subjectId: 'visit',
  treeId: 'tree',
  label: '',
  madeAt: '2026-11-25T08:00:00.000Z',
  clockOffsetMs: null,
  body: {},
  state: 'waiting',
  beside: false,
  refusals: [],
  tries: 0,
  nextTryAt: 0,
  sentAt: null,
  answer: null,
  ...part,
})
