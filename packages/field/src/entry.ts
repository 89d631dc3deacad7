import type { EntryKind, Refusal } from '@underbough/model'

/**
 * Where an entry stands on its device. `waiting`: the office has not got it. `refused`: the office said no and its person must mend it.
 * `sent`: the office has it; the device keeps a copy for a while, in case the office is restored from a copy of its own.
 */
export type EntryState = 'waiting' | 'refused' | 'sent'

/** One entry as a device keeps it. `seq` rises with each entry made on the device: order never depends on its clock. */
export interface KeptEntry {
  seq: number
  key: string
  kind: EntryKind
  authorId: string
  /** What the entry is about: the visit, reading, photo, stop … It stands for `at the office` where that record is shown. */
  subjectId: string
  treeId: string | null
  /** For a person who looks at what waits: `Visit to 0417 Beech`. */
  label: string
  madeAt: string
  clockOffsetMs: number | null
  body: unknown
  state: EntryState
  /** Taken, though somebody else had changed the record: the office holds both versions. */
  beside: boolean
  refusals: readonly Refusal[]
  /** Times it was sent without a verdict, and when it may be sent again (device clock, milliseconds); 0 for at once. */
  tries: number
  nextTryAt: number
  sentAt: number | null
  /** What the office answered when it took it. */
  answer: unknown
}

/** What is known of an entry as a person makes it. */
export type MadeEntry = Pick<
  KeptEntry,
  'key' | 'kind' | 'authorId' | 'subjectId' | 'treeId' | 'label' | 'madeAt' | 'clockOffsetMs' | 'body'
>

/** An entry as it is first kept: waiting, never sent. Its place in the order is given by the store. */
export const waitingEntry = (made: MadeEntry): Omit<KeptEntry, 'seq'> => ({
  ...made,
  state: 'waiting',
  beside: false,
  refusals: [],
  tries: 0,
  nextTryAt: 0,
  sentAt: null,
  answer: null,
})
