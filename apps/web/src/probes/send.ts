import type { Borders, Refusal } from '@underbough/model'
import { api, Refused, refusalsOf } from '../api/index.ts'
import { photoForm } from '../tree/photo.ts'
import { countWaiting, isSilence } from '../visit/send.ts'
import { visitsHere } from '../visit/store.ts'
import {
  allReadingPhotos,
  bordersHere,
  dropBorders,
  dropReadingPhoto,
  endReading,
  type KeptReading,
  keepBorders,
  keepReading,
  readingHere,
  readingsHere,
} from './store.ts'

/** No answer, or nobody signed in: it is no verdict on what was sent, which only has to be sent again. */
const isToWait = (error: unknown) => isSilence(error) || (error instanceof Refused && error.has('signed-out'))

let running: Promise<void> | null = null
let again = false

/**
 * Sends what this person's device keeps of readings: a reading after its visit, a bent core after its core, borders and photos after
 * their reading. What the office refuses is a draft again, with the reason; silence changes nothing.
 */
export function sendReadings(personId: string): Promise<void> {
  if (running) {
    again = true
    return running
  }
  running = (async () => {
    do {
      again = false
      await sendOnce(personId)
    } while (again)
  })()
    .catch((error) => {
      if (!isToWait(error)) throw error
    })
    .finally(() => {
      running = null
      return countWaiting().catch(() => {})
    })
  return running
}

/** Resolves when nothing is on its way: then a reading can be taken up again without being sent behind its person’s back. */
export const nothingOnItsWay = (): Promise<void> => running ?? Promise.resolve()

async function sendOnce(personId: string): Promise<void> {
  const unsent = new Set((await visitsHere()).filter((visit) => visit.sentAt === null).map(({ id }) => id))
  const mine = (await readingsHere()).filter((one) => one.personId === personId && one.probe)
  for (const reading of mine.sort(inOrder)) if (!unsent.has(reading.visitId ?? '')) await sendReading(reading)
  for (const kept of await bordersHere()) {
    if (kept.personId !== personId || !kept.accepted || (await readingHere(kept.probeId))) continue
    try {
      await api.post<Borders>(`/probes/${kept.probeId}/borders`, kept.input)
      await dropBorders(kept.probeId)
    } catch (error) {
      if (isToWait(error)) throw error
      await keepBorders({ ...kept, accepted: false, refusals: refusalsOf(error) })
    }
  }
  for (const photo of await allReadingPhotos()) {
    if (await readingHere(photo.probeId)) continue
    try {
      await api.send('/photos', photoForm(photo.file, photo.name, photo.meta))
      await dropReadingPhoto(photo.id)
    } catch (error) {
      // A refused photo stays on the device: its bytes are nowhere else.
      if (isToWait(error)) throw error
    }
  }
}

/** Cores before what was done with them; otherwise as they were entered. */
const inOrder = (a: KeptReading, b: KeptReading) =>
  Number(a.values.kind === 'fracture-test') - Number(b.values.kind === 'fracture-test') || a.keptAt - b.keptAt

async function sendReading(reading: KeptReading): Promise<void> {
  try {
    await api.post('/probes', reading.probe)
    await endReading(reading.id)
  } catch (error) {
    if (isToWait(error)) throw error
    const refusals = refusalsOf(error)
    if (await waitsForCore(reading, refusals)) return
    await keepReading({ ...reading, probe: null, refusals })
  }
}

/** The core that was bent is still on this device: the bending goes after it. */
async function waitsForCore({ probe }: KeptReading, refusals: readonly Refusal[]): Promise<boolean> {
  if (probe?.kind !== 'fracture-test' || !probe.reading.ofProbeId) return false
  return (
    refusals.some(({ path }) => path === 'reading.ofProbeId') &&
    (await readingHere(probe.reading.ofProbeId)) !== undefined
  )
}
