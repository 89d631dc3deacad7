import { type KeptEntry, replacedBy } from '@underbough/field'
import type { EntryBody, EntryKind } from '@underbough/model'
import Dexie, { type EntityTable, type Table } from 'dexie'
import {
  type About,
  type BordersRow,
  freshEntry,
  type KeptFile,
  type ReadingRow,
  type Remembered,
  type VisitRow,
} from './rows.ts'
import { takeOver } from './takeOver.ts'

/** Everything this device keeps for its people. One database, so that an entry and what it replaces change together. */
export class Device extends Dexie {
  entries!: Table<KeptEntry, number, Omit<KeptEntry, 'seq'>>
  files!: EntityTable<KeptFile, 'sha256'>
  remembered!: EntityTable<Remembered, 'name'>
  visits!: EntityTable<VisitRow, 'id'>
  readings!: EntityTable<ReadingRow, 'id'>
  borders!: EntityTable<BordersRow, 'probeId'>
  constructor(name = 'underbough') {
    super(name)
    this.version(1).stores({
      entries: '++seq, &key, subjectId, treeId, authorId, state',
      files: 'sha256',
      remembered: 'name',
    })
    this.version(2).stores({
      visits: 'id, treeId',
      readings: 'id, treeId',
      borders: 'probeId, treeId',
    })
    // Nothing is read or written before what older versions of the program kept is here.
    this.on('ready', (opening) => takeOver(opening), true)
  }
}
export const device = new Device()

/**
 * Keeps an entry on this device; it goes to the office by itself. Resolves once it is stored, and throws where it cannot be
 * stored (no room, storage refused): then it must not be shown as kept. Call inside a transaction over at least `entries` and
 * `remembered` to change a draft with it.
 */
export function enter<K extends EntryKind>(kind: K, body: EntryBody<K>, about: About): Promise<string> {
  return device.transaction('rw', device.entries, device.remembered, async () => {
    const offset = await device.remembered.get('clockOffsetMs')
    const entry = freshEntry(kind, body, about, (offset?.value as number | undefined) ?? null)
    const seq = await device.entries.add(entry)
    const before = await device.entries.where({ subjectId: about.subjectId }).toArray()
    const gone = replacedBy({ ...entry, seq }, before)
    if (gone.length > 0) await device.entries.where('key').anyOf(gone).delete()
    return entry.key
  })
}
