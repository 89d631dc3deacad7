import type { EntryBody, EntryKind } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'

/** The times of an entry. */
export interface When {
  /** By the device's clock. */
  madeAt: string
  /** Office minus device. */
  clockOffsetMs: number
  /** By the office's clock. */
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
