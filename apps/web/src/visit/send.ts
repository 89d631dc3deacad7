import type {
  Due,
  Rating,
  RatingInput,
  UrgentNoteInput,
  Visit,
  VisitInput,
  WorkInput,
} from '@underbough/model'
import { api, Refused } from '../api/index.ts'
import { readingsWaiting } from '../probes/store.ts'
import { tellKeeping } from '../shell/index.ts'
import { photoForm } from '../tree/photo.ts'
import { type Draft, visitOf } from './draft.ts'
import { ratingOf } from './judgement.ts'
import { dropPhotos, keepPhoto, photosOfVisit, waitingHere } from './store.ts'

export interface Closing {
  visit: VisitInput
  rating: RatingInput | null
  works: WorkInput[]
  urgentNote: UrgentNoteInput | null
}
export interface Closed {
  visit: Visit
  rating: Rating | null
  due: Due | null
  before: Due | null
}

/** All that closes together, in one message. */
export function closingOf(draft: Draft): Closing {
  return {
    visit: visitOf(draft),
    rating:
      draft.leaveRating || !draft.rating
        ? null
        : ratingOf(draft.rating, {
            treeId: draft.treeId,
            visitId: draft.id,
            timeFrameYears: draft.assignment.timeFrameYears,
          }),
    works: draft.works,
    urgentNote: draft.urgentNote,
  }
}

export const sendDraft = (draft: Draft) => api.put<Visit>(`/visits/${draft.id}`, visitOf(draft))
export const sendClosing = (draft: Draft) => api.post<Closed>(`/visits/${draft.id}/close`, closingOf(draft))
/** At once, ahead of everything else; the closing repeats it, and the office keeps it once. */
export const sendUrgent = (note: UrgentNoteInput) => api.post('/urgent-notes', note)

/** Ends the stop of a round with its visit. A stop that is gone or ended already changes nothing about the visit. */
export const endStop = (stopId: string, visitId: string) =>
  api.post(`/stops/${stopId}/end`, { visitId, skippedBecause: null }).catch(() => {})

/** No answer came: nothing was refused, it only has to be sent again. */
export const isSilence = (error: unknown): boolean =>
  error instanceof Refused && (error.status === 0 || error.status >= 502)

/** Sends the photos of a visit that the office lacks, one after the other. Stops at the first silence; a refused one stays here. */
export async function sendPhotos(visitId: string): Promise<void> {
  for (const photo of await photosOfVisit(visitId)) {
    if (photo.sentAt !== null) continue
    try {
      await api.send('/photos', photoForm(photo.file, photo.name, photo.meta))
      await keepPhoto({ ...photo, sentAt: Date.now() })
    } catch (error) {
      if (isSilence(error)) return
    }
  }
}

/** Clears from this device what the office holds already. */
export async function clearSent(visitId: string): Promise<void> {
  const photos = await photosOfVisit(visitId)
  await dropPhotos(photos.filter((p) => p.sentAt !== null).map((p) => p.id))
}

/** Tells the head of the page how much waits on this device. */
export async function countWaiting(): Promise<void> {
  const { visits, photos } = await waitingHere()
  const waiting = visits + photos + (await readingsWaiting())
  tellKeeping({ waiting, ...(waiting === 0 ? { lastKeptAt: Date.now() } : {}) })
}
