import type { ProbeInput } from '@underbough/model'
import { beforeEach, describe, expect, it, vi } from 'vitest'
import { Refused } from '../api/index.ts'
import type { KeptBorders, KeptReading, ReadingPhoto } from './store.ts'
import { emptyValues } from './values.ts'

const device = vi.hoisted(() => ({
  readings: new Map<string, KeptReading>(),
  borders: new Map<string, KeptBorders>(),
  photos: new Map<string, ReadingPhoto>(),
  visits: [] as { id: string; sentAt: number | null }[],
}))
const office = vi.hoisted(() => ({ asked: [] as string[], answer: (_: string): unknown => undefined }))

vi.mock('./store.ts', () => ({
  readingsHere: async () => [...device.readings.values()],
  readingHere: async (id: string) => device.readings.get(id),
  keepReading: async (one: KeptReading) => device.readings.set(one.id, one),
  endReading: async (id: string) => device.readings.delete(id),
  bordersHere: async () => [...device.borders.values()],
  keepBorders: async (one: KeptBorders) => device.borders.set(one.probeId, one),
  dropBorders: async (id: string) => device.borders.delete(id),
  allReadingPhotos: async () => [...device.photos.values()],
  dropReadingPhoto: async (id: string) => device.photos.delete(id),
  readingsWaiting: async () => device.readings.size,
}))
vi.mock('../visit/store.ts', () => ({ visitsHere: async () => device.visits }))
vi.mock('../visit/send.ts', () => ({
  countWaiting: async () => {},
  isSilence: (error: Refused) => error.status === 0,
}))
vi.mock('../tree/photo.ts', () => ({ photoForm: () => new FormData() }))
vi.mock('../api/index.ts', async (original) => {
  const ask = async (path: string, body?: { id?: string }) => {
    office.asked.push([path, body?.id].filter(Boolean).join(' '))
    return office.answer(office.asked.at(-1)!)
  }
  return { ...(await original<object>()), api: { post: ask, send: (path: string) => ask(path) } }
})
const { sendReadings } = await import('./send.ts')

const reading = (id: string, kind: 'core' | 'fracture-test' = 'core', part: Partial<KeptReading> = {}) => {
  const probe = { id, kind, reading: { ofProbeId: 'core-1' } } as unknown as ProbeInput
  device.readings.set(id, {
    id,
    treeId: 'tree',
    visitId: 'visit',
    personId: 'me',
    values: emptyValues(kind, '', ''),
    keptAt: 1,
    refusals: [],
    probe,
    ...part,
  })
}
const no = (status: number, code: 'unavailable' | 'out-of-range' | 'unknown' | 'signed-out', path = '') => {
  throw new Refused(status, [{ code, path, message: 'No.' }])
}

beforeEach(() => {
  for (const table of [device.readings, device.borders, device.photos]) table.clear()
  device.visits = []
  office.asked = []
  office.answer = () => undefined
})

describe('sending readings', () => {
  it('lets a reading wait until its visit has reached the office', async () => {
    reading('core-1')
    device.visits = [{ id: 'visit', sentAt: null }]
    await sendReadings('me')
    expect(office.asked).toEqual([])
    device.visits = [{ id: 'visit', sentAt: 5 }]
    await sendReadings('me')
    expect(office.asked).toEqual(['/probes core-1'])
    expect(device.readings.size).toBe(0)
  })

  it('sends a core before what was done with it, then borders, then photos', async () => {
    reading('bent', 'fracture-test')
    reading('core-1', 'core', { keptAt: 9 })
    device.borders.set('core-1', {
      probeId: 'core-1',
      personId: 'me',
      accepted: true,
      input: { id: 'b' },
    } as unknown as KeptBorders)
    device.photos.set('p', { id: 'p', probeId: 'core-1' } as unknown as ReadingPhoto)
    await sendReadings('me')
    expect(office.asked).toEqual(['/probes core-1', '/probes bent', '/probes/core-1/borders b', '/photos'])
    expect([device.readings.size, device.borders.size, device.photos.size]).toEqual([0, 0, 0])
  })

  it('makes a refused reading a draft again, with the reason, and sends the next', async () => {
    reading('core-1')
    reading('core-2', 'core', { keptAt: 2 })
    office.answer = (asked) => asked.endsWith('core-1') && no(400, 'out-of-range', 'heightM')
    await sendReadings('me')
    expect([...device.readings.keys()]).toEqual(['core-1'])
    expect(device.readings.get('core-1')).toMatchObject({ probe: null, refusals: [{ path: 'heightM' }] })
  })

  it.each([
    ['no answer', 0, 'unavailable'],
    ['nobody is signed in', 401, 'signed-out'],
  ] as const)('changes nothing and stops when %s', async (_, status, code) => {
    reading('core-1')
    reading('core-2')
    const before = structuredClone([...device.readings.values()])
    office.answer = () => no(status, code)
    await sendReadings('me')
    expect(office.asked).toHaveLength(1)
    expect([...device.readings.values()]).toEqual(before)
  })

  it('sends nobody else’s readings, and none that is still being entered', async () => {
    reading('core-1', 'core', { personId: 'another' })
    reading('core-2', 'core', { probe: null })
    await sendReadings('me')
    expect(office.asked).toEqual([])
  })

  it('keeps back borders and photos of a reading that has not gone', async () => {
    reading('core-1')
    device.visits = [{ id: 'visit', sentAt: null }]
    device.photos.set('p', { id: 'p', probeId: 'core-1' } as unknown as ReadingPhoto)
    await sendReadings('me')
    expect(device.photos.size).toBe(1)
  })

  it('lets a bent core wait for a core that is still on the device', async () => {
    reading('bent', 'fracture-test')
    reading('core-1', 'core', { probe: null })
    office.answer = () => no(404, 'unknown', 'reading.ofProbeId')
    await sendReadings('me')
    expect(device.readings.get('bent')!.probe).not.toBeNull()
  })
})
