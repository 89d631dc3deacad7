import 'fake-indexeddb/auto'
import { photoInput } from '@underbough/model'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { device } from '../keep/device.ts'
import { fitted } from './copy.ts'
import { keepCaption, keepPhoto, MOST_BYTES, movePhotos, NotKept, takeBackPhoto } from './keep.ts'

const about = { authorId: 'somebody', treeId: crypto.randomUUID(), label: '0417 Beech: opening' }
const owner = { ownerKind: 'finding', ownerId: crypto.randomUUID() } as const
const taken = Date.UTC(2026, 10, 25, 14, 2)
const file = (words: BlobPart, name = 'a.jpg') => new File([words], name, { lastModified: taken })
const bodies = async () => (await device.entries.toArray()).map(({ body }) => photoInput.parse(body))
/** IndexedDB 3.0, "QuotaExceededError": what a browser throws where a write finds no room. */
const noRoom = () => Object.assign(new Error('no room'), { name: 'QuotaExceededError' })

// A browser without locks: nothing else runs in this one.
vi.stubGlobal('navigator', {})
beforeEach(() => Promise.all([device.entries.clear(), device.files.clear()]))
afterEach(() => vi.restoreAllMocks())

describe('a photo kept on the device', () => {
  // FIPS 180-4 example "abc", as NIST prints it: ba7816bf 8f01cfea 414140de 5dae2223 b00361a3 96177a9c b410ff61 f20015ad.
  const abc = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'

  it('has its bytes untouched under their digest, and one entry that says what it is', async () => {
    const { photo, copied } = await keepPhoto(file('abc'), owner, 'opening', about)
    expect(copied).toBe(false)
    const kept = (await device.files.get(abc))!
    expect([kept.name, kept.file.size]).toEqual(['a.jpg', 3])
    const [entry] = await device.entries.toArray()
    expect(entry).toMatchObject({ kind: 'photo', state: 'waiting', subjectId: photo.id, ...about })
    expect(await bodies()).toEqual([
      {
        ...owner,
        id: photo.id,
        sha256: abc,
        bytes: 3,
        takenAt: new Date(taken).toISOString(),
        position: null,
        caption: 'opening',
        copyOf: null,
        copyKind: null,
      },
    ])
  })

  it('is refused aloud where there is no room, and nothing is left of it', async () => {
    vi.spyOn(device.entries, 'add').mockImplementation(() => {
      throw noRoom()
    })
    const refused = await keepPhoto(file('abc'), owner, '', about).catch((error: unknown) => error)
    expect(refused).toBeInstanceOf(NotKept)
    expect((refused as NotKept).refusals[0]).toMatchObject({
      code: 'storage-full',
      path: 'file',
      message: expect.stringContaining('no room left, so the photo was not kept'),
    })
    expect([await device.files.count(), await device.entries.count()]).toEqual([0, 0])
  })

  it.each([
    ['an empty file', file(''), 'file-empty'],
    [
      'a file larger than the office takes',
      Object.defineProperty(file('a'), 'size', { value: MOST_BYTES + 1 }),
      'too-large',
    ],
  ])('is refused for %s', async (_, given, code) => {
    const refused = await keepPhoto(given as File, owner, '', about).catch((error: unknown) => error)
    expect((refused as NotKept).refusals[0]).toMatchObject({ code })
  })

  it('takes new words as an entry of its own, so that one on its way is never changed', async () => {
    const { photo } = await keepPhoto(file('abc'), owner, 'opening', about)
    const before = await device.entries.toArray()
    await keepCaption(photo, 'the opening from the path', about)
    const after = await device.entries.toArray()
    expect(after[0]).toEqual(before[0])
    expect((await bodies()).map(({ id, caption }) => [id, caption])).toEqual([
      [photo.id, 'opening'],
      [photo.id, 'the opening from the path'],
    ])
  })

  it('is taken back with its bytes, save where another photo has the same ones or the office has it', async () => {
    const one = await keepPhoto(file('abc'), owner, '', about)
    const two = await keepPhoto(file('abc', 'b.jpg'), owner, '', about)
    await takeBackPhoto(one.photo.id)
    expect([await device.files.count(), (await bodies())[0]?.id]).toEqual([1, two.photo.id])
    await device.entries.toCollection().modify({ state: 'sent' })
    await takeBackPhoto(two.photo.id)
    expect([await device.files.count(), await device.entries.count()]).toEqual([1, 1])
    await device.entries.toCollection().modify({ state: 'waiting' })
    await takeBackPhoto(two.photo.id)
    expect([await device.files.count(), await device.entries.count()]).toEqual([0, 0])
  })
})

describe('photos of something that is taken back', () => {
  it('go on belonging to something else under a key of their own; what the office has stays', async () => {
    const atOffice = await keepPhoto(file('one'), owner, '', about)
    await device.entries.toCollection().modify({ state: 'sent' })
    const waiting = await keepPhoto(file('two'), owner, 'opening', about)
    const keys = new Set((await device.entries.toArray()).map(({ key }) => key))
    const visitId = crypto.randomUUID()
    await movePhotos(owner.ownerId, { ownerKind: 'visit', ownerId: visitId })
    const after = await device.entries.toArray()
    expect((await bodies()).map(({ id, ownerId }) => [id, ownerId])).toEqual([
      [atOffice.photo.id, owner.ownerId],
      [waiting.photo.id, visitId],
    ])
    expect(keys.has(after[1]!.key)).toBe(false)
    expect(after[1]).toMatchObject({ state: 'waiting', ...about })
    expect(await device.files.count()).toBe(2)
  })
})

describe('the size of a copy', () => {
  it('fits a screen, keeps its shape, and never grows', () => {
    // 4032 × 3024, a common camera: the longer side to 1600 leaves 3024 × 1600 / 4032 = 1200.
    expect(fitted(4032, 3024)).toEqual({ width: 1600, height: 1200 })
    expect(fitted(3024, 4032)).toEqual({ width: 1200, height: 1600 })
    expect(fitted(640, 480)).toEqual({ width: 640, height: 480 })
    expect(fitted(9000, 2)).toEqual({ width: 1600, height: 1 })
  })
})
