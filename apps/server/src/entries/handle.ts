import type { EntryBody, EntryKind } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'

/** The times of an entry: as its device says, put right by the offset of the device's clock, and when it came here. */
export interface When {
  madeAt: string
  clockOffsetMs: number
  receivedAt: string
}

/**
 * Puts one entry on record. `deps` is bound to the transaction in which the entry's key is stored, so both happen or neither; jobs begun
 * through it start after the commit. Answers what the same request alone would have answered; throws `Refused` to refuse it.
 */
export type Handle<K extends EntryKind> = (
  deps: Deps,
  author: Person,
  body: EntryBody<K>,
  when: When,
) => Promise<unknown>
