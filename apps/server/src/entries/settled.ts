import type { EntryVerdict, Refusal } from '@underbough/model'

/** What a handler gives where more is to be said than its answer. */
export class Settled {
  constructor(
    readonly answer: unknown,
    readonly verdict: EntryVerdict = 'taken',
    readonly notes: Refusal[] = [],
  ) {}
}
