import type { Photo } from '@underbough/model'
import Dexie, { type EntityTable } from 'dexie'
import type { PhotoMeta } from '../tree/photo.ts'
import type { Draft, Ground } from './draft.ts'
import type { Near } from './judgement.ts'

/** A visit kept on this device, with all it was begun from, so that it goes on without signal. */
export interface KeptVisit {
  id: string
  treeId: string
  personId: string
  draft: Draft
  ground: Ground
  near: Near[]
  keptAt: number
  /** When the office last took what was entered; null while it never has. */
  sentAt: number | null
  /** The stop of a round this visit was begun from; it ends with the visit. */
  stopId: string | null
  /** Closed by the person, and still to reach the office. */
  toClose: boolean
}

/** A photo kept on this device: the original bytes and their particulars. */
export interface KeptPhoto {
  id: string
  visitId: string
  name: string
  file: Blob
  meta: PhotoMeta
  ownerKind: Photo['ownerKind']
  ownerId: string
  sentAt: number | null
}

class Device extends Dexie {
  visits!: EntityTable<KeptVisit, 'id'>
  photos!: EntityTable<KeptPhoto, 'id'>
  constructor() {
    super('underbough-visits')
    this.version(1).stores({ visits: 'id, treeId', photos: 'id, visitId' })
  }
}
const device = new Device()

/** The visit this person has open at a tree, on this device. */
export async function keptVisit(treeId: string, personId: string): Promise<KeptVisit | null> {
  const found = await device.visits.where({ treeId }).toArray()
  return found.find((visit) => visit.personId === personId) ?? null
}
export const visitsHere = () => device.visits.toArray()
export const keepVisit = (visit: KeptVisit) => device.visits.put(visit)
export const dropVisit = (id: string) => device.visits.delete(id)

export const photosOfVisit = (visitId: string) => device.photos.where({ visitId }).toArray()
export const keepPhoto = (photo: KeptPhoto) => device.photos.put(photo)
export const dropPhotos = (ids: readonly string[]) => device.photos.bulkDelete([...ids])

/** What on this device has not reached the office: visits and photos. */
export async function waitingHere(): Promise<{ visits: number; photos: number }> {
  const visits = await device.visits
    .filter((v) => v.toClose || v.sentAt === null || v.sentAt < v.keptAt)
    .count()
  const photos = await device.photos.filter((p) => p.sentAt === null).count()
  return { visits, photos }
}
