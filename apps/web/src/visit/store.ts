import { gives } from '@underbough/field'
import type { PhotoInput } from '@underbough/model'
import type { Table } from 'dexie'
import { device, enter, type VisitRow } from '../keep/index.ts'
import { closingOf } from './closing.ts'
import type { Draft, Ground } from './draft.ts'
import { foundOf, visitOf } from './draft.ts'
import type { Near } from './judgement.ts'

/** A visit kept on this device, with all it was begun from, so that it goes on without signal. */
export interface KeptVisit extends VisitRow {
  draft: Draft
  ground: Ground
  near: Near[]
  /** The stop of a round this visit was begun from; it ends with the visit. */
  stopId: string | null
}
const visits = device.visits as unknown as Table<KeptVisit, string>

/** The visit this person has open at a tree, on this device. */
export async function keptVisit(treeId: string, personId: string): Promise<KeptVisit | null> {
  const found = await visits.where({ treeId }).toArray()
  return found.find((visit) => visit.personId === personId) ?? null
}
export const visitHere = (id: string) => visits.get(id)

const aboutOf = ({ id, treeId, personId, ground }: KeptVisit) => ({
  authorId: personId,
  subjectId: id,
  treeId,
  label: `Visit to ${ground.whole.tree.tag} ${ground.whole.tree.commonName ?? ground.whole.tree.species}`,
})
const all = [device.visits, device.entries, device.remembered]

/** Keeps what its person changed. What the office said meanwhile stands; a visit closed in another window is left alone. */
export const keepVisit = (visit: KeptVisit): Promise<void> =>
  device.transaction('rw', device.visits, async () => {
    const stored = await visits.get(visit.id)
    if (stored?.toClose) return
    const { sentAt, refusals } = stored ?? visit
    await visits.put({ ...visit, sentAt, refusals })
  })

/** Enters the draft for the office, in the place of one that still waits. */
export const enterDraft = (visit: KeptVisit): Promise<void> =>
  device.transaction('rw', all, async () => {
    if ((await visits.get(visit.id))?.toClose) return
    await enter('visit-draft', visitOf(visit.draft), aboutOf(visit))
  })

/** Enters the urgent note at once, with the visit it belongs to. */
export const enterUrgent = (visit: KeptVisit): Promise<void> =>
  device.transaction('rw', all, async () => {
    const { urgentNote } = visit.draft
    if (!urgentNote) return
    const { label, ...about } = aboutOf(visit)
    await enter('visit-draft', visitOf(visit.draft), { ...about, label })
    await enter('urgent-note', urgentNote, {
      ...about,
      subjectId: urgentNote.id,
      label: label.replace('Visit to', 'Urgent note on'),
    })
  })

/** Closes a visit on this device: the draft is marked, its closing and the end of its stop are entered, all or nothing. */
export const closeHere = (visit: KeptVisit): Promise<void> =>
  device.transaction('rw', all, async () => {
    const { stopId, id, draft } = visit
    const about = aboutOf(visit)
    await visits.put({ ...visit, toClose: true, refusals: [] })
    await giveLostPhotos(visit)
    await enter('closing', closingOf(draft), about)
    if (stopId)
      await enter(
        'stop-end',
        { stopId, visitId: id, skippedBecause: null },
        { ...about, subjectId: stopId, label: about.label.replace('Visit to', 'Stop at') },
      )
  })

const lastEntered = ({ sentAt }: KeptVisit, entries: readonly { madeAt: string }[]): number =>
  Math.max(sentAt ?? 0, ...entries.map(({ madeAt }) => Date.parse(madeAt)))

/** A photo of a finding that does not go on record would wait for it for ever: it goes with the visit. */
async function giveLostPhotos({ id, treeId, personId, draft }: KeptVisit): Promise<void> {
  const here = await device.entries.where({ treeId }).toArray()
  const others = (await visits.where({ treeId }).toArray()).flatMap((one) =>
    one.id === id ? [] : one.draft.findings,
  )
  const known = new Set([...here.flatMap(gives), ...[...foundOf(draft), ...others].map((one) => one.id)])
  for (const entry of here) {
    const photo = entry.body as PhotoInput
    const isLost = entry.kind === 'photo' && photo.ownerKind === 'finding' && !known.has(photo.ownerId)
    if (isLost && entry.state === 'waiting' && entry.authorId === personId)
      await device.entries.update(entry.seq, { body: { ...photo, ownerKind: 'visit', ownerId: id } })
  }
}

/** Enters what was kept and not entered: by an older version of the program, or because this one ended in the quiet after a change. */
export async function enterLeftVisits(): Promise<void> {
  for (const visit of await visits.toArray())
    await device.transaction('rw', all, async () => {
      const entries = await device.entries.where({ subjectId: visit.id }).toArray()
      if (visit.toClose && !entries.some(({ kind }) => kind === 'closing')) await closeHere(visit)
      else if (!visit.toClose && lastEntered(visit, entries) < visit.keptAt)
        await enter('visit-draft', visitOf(visit.draft), aboutOf(visit))
    })
}
