import type { BatchAnswer, BatchInput, Refusal } from '@underbough/model'
import type { KeptEntry } from './entry.ts'

/** What a device remembers of its office. */
export interface Contact {
  /** The highest mark ever seen; null before the first contact. */
  officeMark: number | null
  /** Office minus device, ms. */
  clockOffsetMs: number | null
  /** Device clock, ms. */
  at: number | null
}

/** The store of a device. Each call happens whole or not at all, and a finished one survives the program. */
export interface Keep {
  deviceId(): Promise<string>
  entries(): Promise<readonly KeptEntry[]>
  /** Puts `make` of each entry still there in its place; null takes the entry away. One transaction. */
  change(keys: readonly string[], make: (entry: KeptEntry) => KeptEntry | null): Promise<void>
  /** Bytes of a kept file; null where it is not on this device. */
  sizeOf(sha256: string): Promise<number | null>
  piece(sha256: string, from: number, to: number): Promise<Uint8Array | null>
  contact(): Promise<Contact>
  met(contact: Partial<Contact>): Promise<void>
}

/** What the way to the office gave back. `nothing`: no answer came, and nobody knows whether the message arrived. */
export type Said<T> =
  | { said: 'yes'; value: T }
  | { said: 'nothing' }
  | { said: 'signed-out' }
  | { said: 'no'; status: number; refusals: readonly Refusal[]; received?: number }

export interface Uploaded {
  /** Bytes the office has, from the first on. */
  received: number
  whole: boolean
}

/** The office as a device reaches it. None of these throws. */
export interface Office {
  batch(input: BatchInput): Promise<Said<BatchAnswer>>
  known(keys: readonly string[]): Promise<Said<{ missing: string[]; officeMark: number }>>
  uploaded(sha256: string): Promise<Said<Uploaded>>
  upload(sha256: string, from: number, of: number, piece: Uint8Array): Promise<Said<Uploaded>>
}
