import type { EntryKind } from '@underbough/model'
import { type KeptEntry, waitingEntry } from '../entry.ts'
import type { Contact, Keep } from '../ports.ts'
import { replacedBy } from '../replaced.ts'
import { toClear } from '../retention.ts'
import type { Life } from './way.ts'

/** A phone's store: what survives when its program ends. */
export class Phone {
  entries: KeptEntry[] = []
  files = new Map<string, { bytes: Uint8Array; keptAt: number }>()
  remembered: Contact = { officeMark: null, clockOffsetMs: null, at: null }
  seq = 0
  /** Its program was started since the office was last asked what it knows. */
  asks = true
  silences = 0
  constructor(
    readonly id: string,
    /** Device minus office, ms. */
    readonly clockOffMs: number,
    public authorId: string,
  ) {}

  /** One transaction: the entry, and what it replaces. */
  enter(kind: EntryKind, subjectId: string, body: unknown, key: string, nowMs: number): KeptEntry {
    this.seq += 1
    const made = waitingEntry({
      key,
      kind,
      authorId: this.authorId,
      subjectId,
      treeId: null,
      label: kind,
      madeAt: new Date(nowMs + this.clockOffMs).toISOString(),
      clockOffsetMs: this.remembered.clockOffsetMs,
      body,
    })
    const entry = { ...made, seq: this.seq }
    this.entries.push(entry)
    const gone = new Set(replacedBy(entry, this.entries))
    this.entries = this.entries.filter((one) => !gone.has(one.key))
    return entry
  }

  clear(nowMs: number): void {
    const files = [...this.files].map(([sha256, { keptAt }]) => ({ sha256, keptAt }))
    const gone = toClear(this.entries, files, { now: nowMs + this.clockOffMs, isShort: true })
    this.entries = this.entries.filter(({ key }) => !gone.keys.includes(key))
    for (const sha256 of gone.files) this.files.delete(sha256)
  }

  /** The store as one life of the program sees it. */
  keep(life: Life): Keep {
    return {
      deviceId: async () => this.id,
      entries: () => life.call(() => structuredClone(this.entries)),
      change: (keys, make) =>
        life.call(() => {
          this.entries = this.entries.flatMap((entry) => {
            const next = keys.includes(entry.key) ? make(entry) : entry
            return next ? [next] : []
          })
        }),
      sizeOf: (sha256) => life.call(() => this.files.get(sha256)?.bytes.length ?? null),
      piece: (sha256, from, to) => life.call(() => this.files.get(sha256)?.bytes.slice(from, to) ?? null),
      contact: async () => ({ ...this.remembered }),
      met: (contact) =>
        life.call(() => {
          this.remembered = { ...this.remembered, ...contact }
        }),
    }
  }
}
