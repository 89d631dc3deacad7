import 'fake-indexeddb/auto'
import type { KeptEntry } from '@underbough/field'
import { beforeEach, describe, expect, it, vi } from 'vitest'
import { device, enter } from '../keep/index.ts'
import type { VisitRow } from '../keep/rows.ts'
import { base64Of, rescueFile } from './rescue.ts'
import { takeBack, withIt } from './takeBack.ts'
import { whyHere } from './words.ts'

// A browser without Web Locks.
vi.stubGlobal('navigator', {})

const about = (subjectId: string) => ({ authorId: 'sand', subjectId, treeId: 'tree', label: subjectId })
const draft = { id: 'visit', treeId: 'tree', findings: [{ id: 'finding' }] }
const photo = (id: string, ownerId: string) => ({ id, ownerId, sha256: `sha of ${id}` })
const all = () => device.entries.orderBy('seq').toArray()
const kinds = async () => (await all()).map(({ kind }) => kind)
const first = async (): Promise<KeptEntry> => (await all())[0]!
const row: VisitRow = {
  id: 'visit',
  treeId: 'tree',
  personId: 'sand',
  keptAt: 5,
  sentAt: null,
  toClose: true,
  refusals: [],
}

beforeEach(() => Promise.all(device.tables.map((table) => table.clear())))

describe('taking back', () => {
  it('takes off what stands on an entry, with its bytes, and nothing else', async () => {
    await device.visits.put(row)
    await enter('visit-draft', draft as never, about('visit'))
    await enter('photo', photo('a', 'finding') as never, about('a'))
    await enter('photo', photo('b', 'elsewhere') as never, about('b'))
    for (const id of ['a', 'b'])
      await device.files.put({ sha256: `sha of ${id}`, name: id, file: new Blob([id]), keptAt: 1 })
    expect(withIt(await first(), await all())).toHaveLength(2)
    await takeBack(await first())
    expect((await all()).map(({ subjectId }) => subjectId)).toEqual(['b'])
    expect(await device.files.toCollection().primaryKeys()).toEqual(['sha of b'])
    expect(await device.visits.count()).toBe(0)
  })

  it('opens a closed visit again, with the end of its stop', async () => {
    await device.visits.put(row)
    await enter('closing', { visit: draft } as never, about('visit'))
    await enter('stop-end', { stopId: 'stop', visitId: 'visit' } as never, about('stop'))
    await enter('stop-end', { stopId: 'other', visitId: null } as never, about('other'))
    await takeBack(await first())
    expect((await all()).map(({ subjectId }) => subjectId)).toEqual(['other'])
    expect((await device.visits.get('visit'))!.toClose).toBe(false)
  })

  it('leaves alone what was sent while its person thought about it', async () => {
    await enter('visit-draft', draft as never, about('visit'))
    const seen = await first()
    await device.entries.update(seen.seq, { state: 'sent' })
    await takeBack(seen)
    expect(await kinds()).toEqual(['visit-draft'])
  })
})

describe('why an entry is here', () => {
  it('names what it waits for', async () => {
    await enter('visit-draft', draft as never, about('visit'))
    await enter('photo', photo('a', 'finding') as never, about('a'))
    const [visit, its] = await all()
    expect(whyHere(its!, [visit!, its!], 0)).toBe('Not sent yet. Goes after: visit.')
    expect(whyHere(visit!, [visit!, its!], 0)).toBe('Not sent yet.')
  })
})

describe('the file for rescue', () => {
  // RFC 4648, section 10: test vectors of base64.
  it.each([
    ['', ''],
    ['f', 'Zg=='],
    ['fo', 'Zm8='],
    ['foo', 'Zm9v'],
    ['foob', 'Zm9vYg=='],
    ['fooba', 'Zm9vYmE='],
    ['foobar', 'Zm9vYmFy'],
  ])('writes “%s” as base64', async (text, letters) => {
    expect((await base64Of(new Blob([text]))).join('')).toBe(letters)
  })
  it('holds every entry and every byte', async () => {
    const bytes = Uint8Array.from({ length: 400_001 }, (_, i) => (i * 13) % 256)
    await enter('photo', photo('a', 'visit') as never, about('a'))
    await enter('photo', { ...photo('a', 'visit'), caption: 'Stem' } as never, about('a'))
    await device.files.put({ sha256: 'sha of a', name: 'a"b.jpg', file: new Blob([bytes]), keptAt: 1 })
    const file = JSON.parse(await (await rescueFile(await all(), new Date(0))).text())
    expect(file.entries.map(({ body }: KeptEntry) => body)).toEqual((await all()).map(({ body }) => body))
    expect(file.files).toHaveLength(1)
    expect(file.files[0]).toMatchObject({ sha256: 'sha of a', name: 'a"b.jpg', bytes: 400_001 })
    expect(Buffer.from(file.files[0].base64, 'base64')).toEqual(Buffer.from(bytes))
  })
})
