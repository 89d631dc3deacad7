import { api, type Me } from '../api/index.ts'
import { sendReadings } from '../probes/send.ts'
import { readingsWaiting } from '../probes/store.ts'
import { clearSent, countWaiting, endStop, isSilence, sendClosing, sendDraft, sendPhotos } from './send.ts'
import { dropVisit, keepVisit, visitsHere } from './store.ts'

/** Visits that are open on a page of this window: that page sends them itself. */
const openHere = new Set<string>()
export function holdOpen(visitId: string): () => void {
  openHere.add(visitId)
  return () => openHere.delete(visitId)
}

let running = false

/**
 * Sends what this person's device still keeps: closings first, then drafts and photos, then readings. A closing that the office refuses is
 * opened again on the device, so that its person meets the reason when they come back to the tree.
 */
export async function sendWaiting(): Promise<void> {
  if (running) return
  running = true
  try {
    const here = (await visitsHere()).filter((visit) => !openHere.has(visit.id))
    if (here.length === 0 && (await readingsWaiting()) === 0) return
    const { me } = await api.get<{ me: Me }>('/session')
    for (const visit of here.filter((v) => v.personId === me.personId)) {
      try {
        if (visit.toClose) {
          await sendClosing(visit.draft)
          if (visit.stopId) await endStop(visit.stopId, visit.id)
          await dropVisit(visit.id)
          await sendPhotos(visit.id)
          await clearSent(visit.id)
        } else if (visit.sentAt === null || visit.sentAt < visit.keptAt) {
          await sendDraft(visit.draft)
          // A page may have taken it up meanwhile; then its own words stand.
          if (!openHere.has(visit.id)) await keepVisit({ ...visit, sentAt: visit.keptAt })
          await sendPhotos(visit.id)
        }
      } catch (error) {
        if (isSilence(error)) return
        if (visit.toClose) await keepVisit({ ...visit, toClose: false })
      }
    }
    await sendReadings(me.personId)
  } catch {
    // Nobody is signed in, or nobody answers: what is kept stays kept.
  } finally {
    running = false
    await countWaiting().catch(() => {})
  }
}

/** Call once: sends what waits now, and each time the signal comes back. */
export function startOutbox(): void {
  window.addEventListener('online', () => void sendWaiting())
  void sendWaiting()
}
