import 'fake-indexeddb/auto'
import type { KeptEntry } from '@underbough/field'
import { refusal } from '@underbough/model'
import { beforeEach, describe, expect, it } from 'vitest'
import { device, enter } from './device.ts'
import type { BordersRow, ReadingRow, VisitRow } from './rows.ts'
import { keepOf } from './store.ts'

const keep = keepOf(device)
const about = (subjectId: string) => ({ authorId: 'sand', subjectId, treeId: 'tree', label: subjectId })
const visit: VisitRow = {
  id: 'visit',
  treeId: 'tree',
  personId: 'sand',
  keptAt: 5,
  sentAt: null,
  toClose: true,
  refusals: [],
}
const reading = { ...visit, id: 'core', visitId: 'visit', probe: { id: 'core' } } as unknown as ReadingRow
const borders = { ...visit, probeId: 'core', accepted: true, input: {} } as unknown as BordersRow
const no = [refusal('out-of-range', 'visit.level')]
const judge = (state: KeptEntry['state'], key: string) =>
  keep.change([key], (entry) => ({ ...entry, state, refusals: state === 'refused' ? no : [] }))

beforeEach(async () => {
  await Promise.all(device.tables.map((table) => table.clear()))
  await device.visits.put(visit)
  await device.readings.put(reading)
  await device.borders.put(borders)
})

describe('what follows from the office’s answer', () => {
  it('opens a visit again whose closing was refused, with the reasons, and lets the visit itself go as a draft', async () => {
    const body = { visit: { id: 'visit', endedAt: '2026-11-25T09:00:00Z', findings: [{ id: 'f' }] } }
    const key = await enter('closing', body as never, about('visit'))
    await judge('refused', key)
    expect(await device.visits.get('visit')).toEqual({ ...visit, toClose: false, refusals: no })
    const entries = await device.entries.toArray()
    expect(entries.map(({ kind, state }) => [kind, state])).toEqual([
      ['closing', 'refused'],
      ['visit-draft', 'waiting'],
    ])
    expect(entries[1]!.body).toEqual({ ...body.visit, endedAt: null })
    await judge('sent', entries[1]!.key)
    expect((await device.visits.get('visit'))!.refusals).toEqual(no)
  })

  it('clears a visit from the drafts once its closing was taken', async () => {
    await judge('sent', await enter('closing', { visit: {} } as never, about('visit')))
    expect(await device.visits.count()).toBe(0)
  })

  it('makes a refused reading and refused borders drafts again, with the reasons; clears taken ones', async () => {
    const one = await enter('reading', {} as never, about('core'))
    const other = await enter('borders', {} as never, about('core'))
    await judge('refused', one)
    await judge('refused', other)
    expect(await device.readings.get('core')).toMatchObject({ probe: null, refusals: no })
    expect(await device.borders.get('core')).toMatchObject({ accepted: false, refusals: no })
    await device.borders.update('core', { accepted: true })
    await judge('sent', one)
    await judge('sent', other)
    expect([await device.readings.count(), await device.borders.count()]).toEqual([0, 0])
  })

  it('leaves borders alone that were moved again after they were sent', async () => {
    const key = await enter('borders', {} as never, about('core'))
    await device.borders.update('core', { accepted: false })
    await judge('sent', key)
    expect(await device.borders.count()).toBe(1)
  })

  it('reads a file in pieces, and says which it has not', async () => {
    const bytes = Uint8Array.from({ length: 300 }, (_, i) => i % 256)
    await device.files.put({ sha256: 's', name: 'a', file: new Blob([bytes]), keptAt: 1 })
    expect(await keep.piece('s', 100, 300)).toEqual(bytes.slice(100))
    expect([await keep.sizeOf('s'), await keep.sizeOf('other')]).toEqual([300, null])
  })

  it('remembers the clock and the mark for the next entry, and one name for the device', async () => {
    await keep.met({ officeMark: 7, clockOffsetMs: -1500, at: 9 })
    await keep.met({ clockOffsetMs: -1600 })
    expect(await keep.contact()).toEqual({ officeMark: 7, clockOffsetMs: -1600, at: 9 })
    await enter('visit-draft', {} as never, about('visit'))
    expect((await device.entries.toArray())[0]!.clockOffsetMs).toBe(-1600)
    expect(await keep.deviceId()).toBe(await keep.deviceId())
  })
})
