import type { KeptEntry } from '@underbough/field'
import type { EntryBody, EntryKind } from '@underbough/model'
import Dexie, { type EntityTable, type Table } from 'dexie'

/** The original bytes of a photo, once for each digest. */
export interface KeptFile {
  sha256: string
  name: string
  file: Blob
  keptAt: number
}
/** A small thing to remember: who was here last, the clock's offset, the office's mark. */
export interface Remembered {
  name: string
  value: unknown
}

/** Everything this device keeps for its people. One database, so that an entry and what it replaces change together. */
export class Device extends Dexie {
  entries!: Table<KeptEntry, number, Omit<KeptEntry, 'seq'>>
  files!: EntityTable<KeptFile, 'sha256'>
  remembered!: EntityTable<Remembered, 'name'>
  constructor(name = 'underbough') {
    super(name)
    this.version(1).stores({
      entries: '++seq, &key, subjectId, treeId, authorId, state',
      files: 'sha256',
      remembered: 'name',
    })
  }
}
export const device = new Device()

/** What an entry is about, for the queue and for the person who looks at it. */
export interface About {
  authorId: string
  subjectId: string
  treeId: string | null
  label: string
}

/**
 * Keeps an entry on this device; it goes to the office by itself. Resolves once it is stored, and throws where it cannot be
 * stored (no room, storage refused): then it must not be shown as kept. Call inside `device.transaction` to change a draft with it.
 */
export async function enter<K extends EntryKind>(kind: K, body: EntryBody<K>, about: About): Promise<string> {
  const key = crypto.randomUUID()
  const offset = await device.remembered.get('clockOffsetMs')
  await device.entries.add({
    key,
    kind,
    ...about,
    madeAt: new Date().toISOString(),
    clockOffsetMs: (offset?.value as number | undefined) ?? null,
    body,
    state: 'waiting',
    beside: false,
    refusals: [],
    tries: 0,
    nextTryAt: 0,
    sentAt: null,
    answer: null,
  })
  return key
}
