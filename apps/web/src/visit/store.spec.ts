import 'fake-indexeddb/auto'
import { lookingSteps } from '@underbough/model'
import { beforeEach, describe, expect, it } from 'vitest'
import { device, enter } from '../keep/index.ts'
import type { Draft } from './draft.ts'
import {
  closeHere,
  enterDraft,
  enterLeftVisits,
  enterUrgent,
  type KeptVisit,
  keepVisit,
  visitHere,
} from './store.ts'

const answers = Object.fromEntries(
  lookingSteps.map((step) => [step, { result: 'nothing-found', notSeenBecause: null }]),
)
const draft = {
  id: 'visit',
  treeId: 'tree',
  personId: 'sand',
  startedAt: '2026-11-25T08:00:00Z',
  screen: 'closing',
  weather: 'dry',
  leafState: 'in-leaf',
  assignment: { scope: 'Tree', level: 2, levelReason: '', timeFrameYears: 3, targets: 'Path', limits: '' },
  answers,
  seconds: {},
  findings: [
    { id: 'finding', step: 'stem', kind: 'opening', heightM: 2, bearingDeg: 90, extent: '', note: '' },
  ],
  couldNotSee: '',
  rating: null,
  leaveRating: true,
  works: [],
  urgentNote: null,
  endedAt: null,
} as unknown as Draft
const visit = {
  id: 'visit',
  treeId: 'tree',
  personId: 'sand',
  draft: { ...draft, findings: [] },
  ground: { whole: { tree: { tag: '0417', commonName: 'Beech', species: 'Fagus sylvatica' } } },
  near: [],
  keptAt: 1000,
  sentAt: null,
  stopId: 'stop',
  toClose: false,
  refusals: [],
} as unknown as KeptVisit
const entries = async () =>
  (await device.entries.orderBy('seq').toArray()).map(({ kind, subjectId }) => `${kind} ${subjectId}`)

beforeEach(() => Promise.all(device.tables.map((table) => table.clear())))

describe('a visit on the device', () => {
  it('is closed in one write: the draft marked, its closing and the end of its stop in the place of waiting drafts', async () => {
    await keepVisit(visit)
    await enterDraft(visit)
    expect(await entries()).toEqual(['visit-draft visit'])
    await closeHere(visit)
    expect(await entries()).toEqual(['closing visit', 'stop-end stop'])
    expect((await visitHere('visit'))!.toClose).toBe(true)
    expect((await device.entries.toArray())[0]!.label).toBe('Visit to 0417 Beech')
  })

  it('is not closed at all where the write fails', async () => {
    await keepVisit(visit)
    const full = () => {
      throw Object.assign(new Error('full'), { name: 'QuotaExceededError' })
    }
    device.entries.hook('creating', full)
    await expect(closeHere(visit)).rejects.toThrow('full')
    device.entries.hook('creating').unsubscribe(full)
    expect((await visitHere('visit'))!.toClose).toBe(false)
    expect(await entries()).toEqual([])
  })

  it('is left alone by a window that has not heard of its closing', async () => {
    await closeHere(visit)
    await keepVisit({ ...visit, draft: { ...visit.draft, weather: 'wet' } })
    await enterDraft(visit)
    expect((await visitHere('visit'))!.draft.weather).toBe('dry')
    expect(await entries()).toEqual(['closing visit', 'stop-end stop'])
  })

  it('keeps what the office said while its person goes on', async () => {
    await keepVisit(visit)
    await device.visits.update('visit', { sentAt: 900 })
    await keepVisit({ ...visit, keptAt: 2000 })
    expect(await visitHere('visit')).toMatchObject({ sentAt: 900, keptAt: 2000 })
  })

  it('enters the urgent note with the visit that it belongs to', async () => {
    const urgentNote = { id: 'note', treeId: 'tree', visitId: 'visit' }
    await enterUrgent({ ...visit, draft: { ...visit.draft, urgentNote } as unknown as Draft })
    expect(await entries()).toEqual(['visit-draft visit', 'urgent-note note'])
  })

  it('takes along the photo of a finding that was taken back', async () => {
    const about = { authorId: 'sand', treeId: 'tree', label: 'Photo' }
    const photo = (ownerId: string) =>
      ({ id: `photo of ${ownerId}`, ownerKind: 'finding', ownerId, sha256: 's' }) as never
    await enter('photo', photo('gone'), { ...about, subjectId: 'gone' })
    await enter('photo', photo('finding'), { ...about, subjectId: 'finding' })
    const found = { result: 'findings' as const, notSeenBecause: null }
    await closeHere({ ...visit, draft: { ...draft, answers: { ...draft.answers, stem: found } } })
    const owners = (await device.entries.toArray()).flatMap(({ kind, body }) =>
      kind === 'photo' ? [body as { ownerKind: string; ownerId: string }] : [],
    )
    expect(owners.map(({ ownerKind, ownerId }) => `${ownerKind} ${ownerId}`)).toEqual([
      'visit visit',
      'finding finding',
    ])
  })

  it('enters at the start what was kept and never entered, and nothing twice', async () => {
    await device.visits.bulkPut([
      { ...visit, toClose: true },
      { ...visit, id: 'open', draft: { ...visit.draft, id: 'open' } } as KeptVisit,
      { ...visit, id: 'sent', sentAt: 1000, draft: { ...visit.draft, id: 'sent' } } as KeptVisit,
    ])
    await enterLeftVisits()
    await enterLeftVisits()
    expect(await entries()).toEqual(['visit-draft open', 'closing visit', 'stop-end stop'])
  })
})
