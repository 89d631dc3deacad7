import type { Office, Said } from '../ports.ts'
import type { MemoryOffice } from './office.ts'

/** What befalls one pass of a phone. Counts are calls: of the way for the first five, of way and store for a kill. */
export type Fault =
  | { kind: 'none' }
  /** Messages do not arrive. */
  | { kind: 'out'; after: number }
  /** Messages arrive, answers do not. */
  | { kind: 'in'; after: number }
  /** Messages arrive twice. */
  | { kind: 'twice'; after: number }
  /** Messages are held up and arrive at some later time. */
  | { kind: 'late'; after: number }
  /** The office takes a part of a message and falls over. */
  | { kind: 'part'; after: number; most: number }
  /** The program ends at a call: before it, or when it was done and nobody heard of it. */
  | { kind: 'kill'; after: number; done: boolean }
  | { kind: 'signed-out'; after: number }

export class Killed extends Error {}

/** Calls `work` unless the program is killed just before or just after it. */
export class Life {
  private calls = 0
  constructor(private readonly fault: Fault) {}
  async call<T>(work: () => T): Promise<T> {
    const at = this.calls++
    if (this.fault.kind !== 'kill' || at !== this.fault.after) return work()
    if (this.fault.done) work()
    throw new Killed()
  }
}

/** The office behind a way that fails as told. Messages that are held up are put in `held`, for the caller to deliver. */
export function faultyWay(
  office: MemoryOffice,
  fault: Fault,
  life: Life,
  nowMs: () => number,
  held: (() => void)[],
): Office {
  let calls = 0
  const nothing = { said: 'nothing' } as const
  const ask = <T>(work: (most?: number) => Said<T>): Promise<Said<T>> =>
    life.call(() => {
      const hit = fault.kind !== 'none' && fault.kind !== 'kill' && calls++ >= fault.after
      if (!hit) return work()
      switch (fault.kind) {
        case 'out':
          return nothing
        case 'in':
          work()
          return nothing
        case 'twice':
          work()
          return work()
        case 'late':
          held.push(() => void work())
          return nothing
        case 'part':
          work(fault.most)
          return nothing
        case 'signed-out':
          return { said: 'signed-out' }
      }
    })
  const yes = <T>(value: T): Said<T> => ({ said: 'yes', value })
  return {
    batch: (input) => {
      const sent = structuredClone(input)
      return ask((most) => yes(office.batch(sent, nowMs(), most)))
    },
    known: (keys) => ask(() => yes(office.known(keys))),
    uploaded: (sha256) => ask(() => yes(office.uploaded(sha256))),
    upload: (sha256, from, of, piece) =>
      ask(() => {
        const now = office.upload(sha256, from, of, piece)
        return now
          ? yes(now)
          : { said: 'no', status: 409, refusals: [], received: office.uploaded(sha256).received }
      }),
  }
}
