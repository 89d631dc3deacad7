import { type EntryAnswer, type Refusal, refusal, refusalCodes } from '@underbough/model'
import type { KeptEntry } from './entry.ts'

/** The clock of the device and its chance, so that a pass can be repeated exactly. */
export interface Now {
  /** Milliseconds since 1970, by the device. */
  ms(): number
  /** 0 to below 1. */
  chance(): number
}

const firstWaitMs = 2_000
/** Longest wait between two tries of an entry, ms. */
export const longestWaitMs = 300_000
/** When to try again after `tries` in vain: doubling from 2 s to 5 min, a quarter earlier or later so that phones do not come all at once. */
export function nextTry(tries: number, now: Now): number {
  const waitMs = Math.min(longestWaitMs, firstWaitMs * 2 ** Math.max(0, Math.min(20, tries - 1)))
  return Math.round(now.ms() + waitMs * (0.75 + 0.5 * now.chance()))
}

/** An entry that found no verdict: it waits, alone, and says why. */
export function putOff(entry: KeptEntry, refusals: readonly Refusal[], now: Now): KeptEntry {
  const tries = entry.tries + 1
  return { ...entry, state: 'waiting', tries, nextTryAt: nextTry(tries, now), refusals }
}

/** An entry that an office set back to an older copy does not have any more: it goes again. */
export const putBack = (entry: KeptEntry): KeptEntry => ({
  ...entry,
  state: 'waiting',
  tries: 0,
  nextTryAt: 0,
  sentAt: null,
})

/** The office's answer to an entry, put on it. An entry that was taken already stays so: answers may come twice and in any order. */
export function judged(entry: KeptEntry, answer: EntryAnswer, now: Now): KeptEntry {
  if (entry.state === 'sent') return entry
  const refusals = answer.refusals.map(known)
  switch (answer.verdict) {
    case 'taken':
    case 'beside':
      return {
        ...entry,
        state: 'sent',
        beside: answer.verdict === 'beside',
        refusals: [],
        sentAt: now.ms(),
        answer: answer.answer,
      }
    case 'refused':
      return isNotOfTheEntry(refusals)
        ? putOff(entry, refusals, now)
        : { ...entry, state: 'refused', refusals, tries: entry.tries + 1 }
    case 'later':
      return putOff(entry, refusals, now)
  }
}

/** The sender may not send it, or the office is older than the phone: nothing that the entry's person could mend. */
const isNotOfTheEntry = (refusals: readonly Refusal[]) =>
  refusals.some(
    ({ code, path }) =>
      code === 'entry-format-unknown' ||
      code === 'entry-kind-unknown' ||
      code === 'signed-out' ||
      path === 'authorId',
  )

/** A refusal of a newer office may bear a code that this program does not know; its words stand. */
function known(one: EntryAnswer['refusals'][number]): Refusal {
  return one.code in refusalCodes
    ? (one as Refusal)
    : refusal('malformed', one.path, { message: one.message || refusalCodes.malformed })
}
