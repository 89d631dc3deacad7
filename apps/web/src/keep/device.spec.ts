import 'fake-indexeddb/auto'
import Dexie from 'dexie'
import { afterEach, describe, expect, it } from 'vitest'
import { Device, device, enter } from './device.ts'
import { nobodyKnown } from './takeOver.ts'

const old = {
  visits: { id: 'id, treeId' },
  readings: { id: 'id, treeId' },
}
const meta = (id: string, ownerKind: string, ownerId: string) => ({
  id,
  ownerKind,
  ownerId,
  takenAt: null,
  position: null,
  caption: 'Stem',
  sha256: id.repeat(64).slice(0, 64),
})
const visit = (id: string, part: object = {}) => ({
  id,
  treeId: 'tree',
  personId: 'sand',
  draft: { weather: 'wind' },
  ground: {},
  near: [],
  keptAt: 5,
  sentAt: null,
  stopId: null,
  toClose: false,
  ...part,
})

/** The two databases as the program before this one left them. */
async function leaveOld(photos: object[], more: { readingPhotos?: object[] } = {}): Promise<void> {
  const visits = new Dexie('underbough-visits')
  visits.version(1).stores({ visits: old.visits.id, photos: 'id, visitId' })
  await visits.table('visits').bulkPut([visit('v1'), visit('v2', { toClose: true })])
  await visits.table('photos').bulkPut(photos)
  visits.close()
  const readings = new Dexie('underbough-readings')
  readings.version(1).stores({ readings: old.readings.id, borders: 'probeId, treeId', photos: 'id, probeId' })
  await readings.table('readings').put({ id: 'r1', treeId: 'tree', personId: 'sand', probe: { id: 'r1' } })
  await readings.table('borders').put({ probeId: 'r1', treeId: 'tree', personId: 'sand', accepted: true })
  await readings.table('photos').bulkPut(more.readingPhotos ?? [])
  readings.close()
}

afterEach(async () => {
  device.close()
  for (const name of await Dexie.getDatabaseNames()) await Dexie.delete(name)
})

describe('taking over what an older version kept', () => {
  it('brings every row and the bytes of unsent photos, once, and then lets the old databases go', async () => {
    const bytes = Uint8Array.from({ length: 5000 }, (_, i) => (i * 7) % 256)
    await leaveOld(
      [
        {
          id: 'a',
          visitId: 'v1',
          name: 'a.jpg',
          file: new Blob([bytes]),
          meta: meta('a', 'finding', 'f'),
          sentAt: null,
        },
        {
          id: 'b',
          visitId: 'v1',
          name: 'b.jpg',
          file: new Blob(['b']),
          meta: meta('b', 'visit', 'v1'),
          sentAt: 9,
        },
      ],
      {
        readingPhotos: [
          {
            id: 'c',
            probeId: 'gone',
            name: 'c.jpg',
            file: new Blob(['c']),
            meta: meta('c', 'probe', 'gone'),
          },
        ],
      },
    )
    const here = new Device('underbough')
    expect(await here.visits.toArray()).toEqual([
      { ...visit('v1'), refusals: [] },
      { ...visit('v2', { toClose: true }), refusals: [] },
    ])
    expect((await here.readings.toArray()).map(({ id, probe }) => [id, probe])).toEqual([
      ['r1', { id: 'r1' }],
    ])
    expect(await here.borders.count()).toBe(1)
    const entries = await here.entries.toArray()
    expect(
      entries.map(({ kind, authorId, state, body }) => [kind, authorId, state, (body as { id: string }).id]),
    ).toEqual([
      ['photo', 'sand', 'waiting', 'a'],
      ['photo', 'sand', 'waiting', 'c'],
    ])
    expect(entries[0]!.body).toEqual({
      ...meta('a', 'finding', 'f'),
      bytes: 5000,
      copyOf: null,
      copyKind: null,
    })
    const file = await here.files.get(meta('a', '', '').sha256)
    expect(new Uint8Array(await file!.file.arrayBuffer())).toEqual(bytes)
    here.close()
    const again = new Device('underbough')
    expect(await again.entries.count()).toBe(2)
    again.close()
    expect((await Dexie.getDatabaseNames()).filter((name) => name !== 'underbough')).toEqual([])
  })

  it('names nobody as the author of a photo whose people cannot be told apart any more', async () => {
    await leaveOld([
      {
        id: 'a',
        visitId: 'gone',
        name: 'a',
        file: new Blob(['a']),
        meta: meta('a', 'visit', 'gone'),
        sentAt: null,
      },
    ])
    const visits = new Dexie('underbough-visits')
    await visits.open()
    await visits.table('visits').put(visit('v3', { personId: 'orrin' }))
    visits.close()
    const here = new Device('underbough')
    expect((await here.entries.toArray())[0]!.authorId).toBe(nobodyKnown)
    here.close()
  })
})

describe('entering', () => {
  const about = { authorId: 'sand', subjectId: 'v', treeId: 'tree', label: 'Visit' }
  const draft = { id: 'v' } as never
  it('keeps one waiting draft of a visit, and takes it back with the transaction around it', async () => {
    await device.open()
    await device.remembered.put({ name: 'clockOffsetMs', value: 1234 })
    await enter('visit-draft', draft, about)
    await enter('visit-draft', draft, about)
    await enter('closing', { visit: { id: 'v' } } as never, { ...about, subjectId: 'other' })
    expect((await device.entries.toArray()).map(({ seq, kind }) => [seq, kind])).toEqual([
      [2, 'visit-draft'],
      [3, 'closing'],
    ])
    expect((await device.entries.get(2))!.clockOffsetMs).toBe(1234)
    await expect(
      device.transaction('rw', device.entries, device.remembered, async () => {
        await enter('closing', draft, about)
        throw new Error('no room')
      }),
    ).rejects.toThrow('no room')
    expect(await device.entries.count()).toBe(2)
  })
})
