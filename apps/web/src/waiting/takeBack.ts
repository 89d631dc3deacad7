import { fallsWith, gives, type KeptEntry } from '@underbough/field'
import { device, whileNothingGoes } from '../keep/index.ts'
import { takeUpReading } from '../probes/store.ts'

/** What is taken back with an entry: unsent entries that stand on nothing but it, and what stands on them. */
export function withIt(entry: KeptEntry, all: readonly KeptEntry[]): KeptEntry[] {
  const gone = [entry]
  for (let grown = true; grown; ) {
    const keys = new Set(gone.map(({ key }) => key))
    const left = all.filter(({ key }) => !keys.has(key))
    const made = new Set(left.flatMap(gives))
    const lost = new Set(gone.flatMap(gives).filter((id) => !made.has(id)))
    const more = left.filter((one) => one.state !== 'sent' && fallsWith(one).some((id) => lost.has(id)))
    gone.push(...more)
    grown = more.length > 0
  }
  return gone
}

/** Whether taking it back gives its person a draft to go on with, rather than taking it off the device. */
export const isOpenedAgain = ({ kind }: Pick<KeptEntry, 'kind'>): boolean =>
  kind === 'closing' || kind === 'reading'

/**
 * Takes an entry back before the office has it. A closed visit and a reading are drafts again; anything else goes off this device, with
 * what stands on it. An entry that was sent meanwhile stays where it is.
 */
export async function takeBack(entry: KeptEntry): Promise<void> {
  if (entry.kind === 'reading') {
    await takeUpReading(entry.subjectId, entry.authorId)
    return
  }
  await whileNothingGoes(() =>
    device.transaction('rw', device.entries, device.files, device.visits, device.borders, async () => {
      const all = await device.entries.toArray()
      const now = all.find(({ key }) => key === entry.key)
      if (!now || now.state === 'sent') return
      if (now.kind === 'closing') await openVisit(now, all)
      else await drop(withIt(now, all), all)
    }),
  )
}

async function openVisit(closing: KeptEntry, all: readonly KeptEntry[]): Promise<void> {
  const isIts = ({ kind, body, state }: KeptEntry) =>
    kind === 'stop-end' && state !== 'sent' && (body as { visitId?: string }).visitId === closing.subjectId
  await device.entries.bulkDelete([closing, ...all.filter(isIts)].map(({ seq }) => seq))
  await device.visits.update(closing.subjectId, { toClose: false, sentAt: null })
}

async function drop(gone: readonly KeptEntry[], all: readonly KeptEntry[]): Promise<void> {
  const digest = ({ body }: KeptEntry) => (body as { sha256?: string } | null)?.sha256
  const keys = new Set(gone.map(({ key }) => key))
  const needed = new Set(all.filter(({ key }) => !keys.has(key)).map(digest))
  await device.entries.bulkDelete(gone.map(({ seq }) => seq))
  await device.files.bulkDelete(
    gone.map(digest).filter((sha256): sha256 is string => sha256 !== undefined && !needed.has(sha256)),
  )
  for (const { kind, subjectId } of gone) {
    if (kind === 'visit-draft') await device.visits.delete(subjectId)
    if (kind === 'borders') await device.borders.delete(subjectId)
  }
}
