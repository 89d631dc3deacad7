import type { BordersInput, ProbeInput, Refusal } from '@underbough/model'
import Dexie, { type EntityTable } from 'dexie'
import type { PhotoMeta } from '../tree/photo.ts'
import type { Values } from './values.ts'

/** A reading on this device: while it is entered, and until the office has it. */
export interface KeptReading {
  id: string
  treeId: string
  visitId: string | null
  personId: string
  values: Values
  keptAt: number
  /** Why the office did not take it; empty while it never said no. */
  refusals: readonly Refusal[]
  /** What goes to the office; null while the reading is still being entered. */
  probe: ProbeInput | null
}

/** Borders of a trace that the office lacks: being moved, or accepted and on their way. */
export interface KeptBorders {
  probeId: string
  treeId: string
  personId: string
  input: Omit<BordersInput, 'barkCm'> & { barkCm: number | null }
  accepted: boolean
  refusals: readonly Refusal[]
  keptAt: number
}

/** A photo of a reading: the original bytes and their particulars. It leaves after its reading. */
export interface ReadingPhoto {
  id: string
  probeId: string
  name: string
  file: Blob
  meta: PhotoMeta
}

class Device extends Dexie {
  readings!: EntityTable<KeptReading, 'id'>
  borders!: EntityTable<KeptBorders, 'probeId'>
  photos!: EntityTable<ReadingPhoto, 'id'>
  constructor() {
    super('underbough-readings')
    this.version(1).stores({ readings: 'id, treeId', borders: 'probeId, treeId', photos: 'id, probeId' })
  }
}
const device = new Device()

export const readingsHere = () => device.readings.toArray()
export const readingsOfTree = (treeId: string) => device.readings.where({ treeId }).toArray()
export const readingHere = (id: string) => device.readings.get(id)
export const keepReading = (reading: KeptReading) => device.readings.put(reading)

export const bordersHere = () => device.borders.toArray()
export const bordersOfProbe = (probeId: string) => device.borders.get(probeId)
export const keepBorders = (kept: KeptBorders) => device.borders.put(kept)
export const dropBorders = (probeId: string) => device.borders.delete(probeId)

export const photosOfReading = (probeId: string) => device.photos.where({ probeId }).toArray()
export const allReadingPhotos = () => device.photos.toArray()
export const keepReadingPhoto = (photo: ReadingPhoto) => device.photos.put(photo)
export const dropReadingPhoto = (id: string) => device.photos.delete(id)

/** The office has the reading; its photos may still wait. */
export const endReading = (id: string) => device.readings.delete(id)
/** Put away by its person: the reading and all that hangs on it. */
export const putAwayReading = (id: string) =>
  device.transaction('rw', device.readings, device.borders, device.photos, async () => {
    await device.photos.where({ probeId: id }).delete()
    await device.borders.delete(id)
    await device.readings.delete(id)
  })

/** Entries about readings that the office does not have. A photo or borders of a reading that waits count with it. */
export async function readingsWaiting(): Promise<number> {
  const ids = new Set(await device.readings.toCollection().primaryKeys())
  const alone = (one: { probeId: string }) => !ids.has(one.probeId)
  return ids.size + (await device.borders.filter(alone).count()) + (await device.photos.filter(alone).count())
}
