import type { Table } from 'dexie'
import { type BordersRow, device, enter, type ReadingRow, whileNothingGoes } from '../keep/index.ts'
import type { Values } from './values.ts'
import { kindNames } from './words.ts'

/** A reading on this device: while it is entered, and until the office has it. */
export interface KeptReading extends ReadingRow {
  values: Values
}
/** Borders of a trace that the office lacks: being moved, or accepted and on their way. */
export type KeptBorders = BordersRow

const readings = device.readings as unknown as Table<KeptReading, string>
const { borders } = device
const all = [device.readings, device.borders, device.entries, device.remembered]

/** Readings of a tree on this device that are this person's. */
export const readingsOfTree = (treeId: string, personId: string) =>
  readings
    .where({ treeId })
    .filter((one) => one.personId === personId)
    .toArray()
export const keepReading = (reading: KeptReading) => readings.put(reading)

export const bordersOfProbe = (probeId: string) => borders.get(probeId)
/** Taken back by their person; borders that the office has are left alone there. */
export const dropBordersHere = (probeId: string): Promise<void> =>
  device.transaction('rw', all, async () => {
    await borders.delete(probeId)
    await device.entries
      .where({ subjectId: probeId })
      .filter(({ kind, state }) => kind === 'borders' && state !== 'sent')
      .delete()
  })
export const keepBorders = (kept: KeptBorders) => borders.put(kept)

const labelOf = ({ values }: KeptReading) => `Reading ${values.label} ${kindNames[values.kind]}`

/** Hands a reading in, with the borders its person stands by: kept, marked and entered for the office, all or nothing. */
export const handIn = (reading: KeptReading, stand: KeptBorders | null): Promise<void> =>
  device.transaction('rw', all, async () => {
    const { probe, id, treeId, personId } = reading
    if (!probe) return
    await readings.put(reading)
    await enter('reading', probe, { authorId: personId, subjectId: id, treeId, label: labelOf(reading) })
    if (!stand) return
    await borders.put(stand)
    await enterBorders(stand, `${labelOf(reading)}: borders`)
  })

/** Keeps borders of a trace that the office has; accepted ones are entered. */
export const acceptHere = (kept: KeptBorders, label: string): Promise<void> =>
  device.transaction('rw', all, async () => {
    await borders.put(kept)
    await enterBorders(kept, label)
  })

async function enterBorders({ accepted, input, probeId, treeId, personId }: KeptBorders, label: string) {
  const { barkCm } = input
  if (!accepted || barkCm === null) return
  await enter(
    'borders',
    { probeId, borders: { ...input, barkCm } },
    { authorId: personId, subjectId: probeId, treeId, label },
  )
}

/** Takes a reading up again: what of it has not gone waits until it is handed in anew. Null where it is not this person's, or not here. */
export const takeUpReading = (id: string, personId: string): Promise<KeptReading | null> =>
  whileNothingGoes(() =>
    device.transaction('rw', all, async () => {
      const found = await readings.get(id)
      if (!found || found.personId !== personId) return null
      await dropUnsent(id)
      const open = { ...found, probe: null }
      if (found.probe) await readings.put(open)
      return open
    }),
  )

/** Put away by its person: the reading and all that hangs on it. */
export const putAwayReading = (id: string): Promise<void> =>
  device.transaction('rw', [...all, device.files], async () => {
    await dropUnsent(id)
    const photos = await device.entries
      .filter(({ kind, state, body }) => kind === 'photo' && state !== 'sent' && ownerOf(body) === id)
      .toArray()
    await device.entries.bulkDelete(photos.map(({ seq }) => seq))
    await borders.delete(id)
    await readings.delete(id)
  })
const ownerOf = (body: unknown) => (body as { ownerId?: string } | null)?.ownerId

/** The reading's own entries and those of its borders; its photos stay. */
const dropUnsent = (subjectId: string) =>
  device.entries
    .where({ subjectId })
    .filter(({ state }) => state !== 'sent')
    .delete()

/** Enters what an older version of the program left to be sent. */
export async function enterLeftReadings(): Promise<void> {
  const has = async (subjectId: string, kind: string) =>
    (await device.entries.where({ subjectId }).toArray()).some((entry) => entry.kind === kind)
  for (const reading of await readings.toArray())
    if (reading.probe && !(await has(reading.id, 'reading'))) await handIn(reading, null)
  for (const kept of await borders.toArray())
    if (kept.accepted && !(await has(kept.probeId, 'borders'))) await acceptHere(kept, 'Borders of a trace')
}
