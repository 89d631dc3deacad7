import 'fake-indexeddb/auto'
import { beforeEach, describe, expect, it, vi } from 'vitest'
import { device, enter } from '../keep/index.ts'
import { takeBackNote } from './takeBackNote.ts'

// A browser without locks: nothing else runs in this one.
vi.stubGlobal('navigator', {})
const [noteId, treeId, visitId] = Array.from({ length: 3 }, () => crypto.randomUUID()) as [
  string,
  string,
  string,
]
const about = { authorId: 'l.sand', treeId, label: '' }
beforeEach(async () => {
  await device.entries.clear()
  const note = {
    id: noteId,
    treeId,
    visitId,
    keptOut: true,
    toldWhom: 'The park keeper',
    toldHow: 'in person',
    toldAt: '2026-11-25T14:02:00Z',
    interimClosure: '',
  }
  const photo = {
    ownerKind: 'urgent-note',
    ownerId: noteId,
    id: crypto.randomUUID(),
    sha256: 'a'.repeat(64),
  } as const
  const rest = { bytes: 1, takenAt: null, position: null, caption: '', copyOf: null, copyKind: null }
  await enter('urgent-note', note, { ...about, subjectId: noteId })
  await enter('photo', { ...photo, ...rest }, { ...about, subjectId: photo.id })
})
const left = async () =>
  (await device.entries.toArray()).map(({ kind, body }) => [kind, (body as { ownerId?: string }).ownerId])

describe('an urgent note taken back with its words', () => {
  it('leaves the device while the office has not got it, and its photos become the visit’s', async () => {
    expect(await takeBackNote(noteId, visitId)).toBe(true)
    expect(await left()).toEqual([['photo', visitId]])
  })
  it('stands once the office has it, with its photos', async () => {
    await device.entries.filter(({ kind }) => kind === 'urgent-note').modify({ state: 'sent' })
    expect(await takeBackNote(noteId, visitId)).toBe(false)
    expect(await left()).toEqual([
      ['urgent-note', undefined],
      ['photo', noteId],
    ])
  })
})
