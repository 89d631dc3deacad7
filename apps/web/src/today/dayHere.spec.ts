import { type KeptEntry, waitingEntry } from '@underbough/field'
import { type EntryBody, type EntryKind, planeAt } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import type { Stop, TreeRow } from '../api/index.ts'
import { dayAsHere, type Filled } from './dayHere.ts'

const plane = planeAt(-8.25, -31.67)
const treeOf = (tag: string, eastM: number): TreeRow => ({
  id: `tree-${tag}`,
  tag,
  species: 'Tilia cordata',
  commonName: 'Lime',
  position: plane.toDegrees(eastM, 0),
  status: 'standing',
  risk: 'low',
  due: null,
  overdueDays: 0,
  seen: true,
  ratingOpen: false,
  siteId: null,
  heightM: null,
  stemDiameterCm: null,
})
const stop = (tag: string, eastM: number, minute: number): Stop => ({
  id: tag,
  tree: treeOf(tag, eastM),
  order: 1,
  arriveMinute: minute,
  startMinute: minute,
  leaveMinute: minute + 12,
  travelM: 100,
  level: 2,
  doneVisitId: null,
  skippedBecause: null,
  addedBecause: null,
  handedFrom: null,
  handedBecause: null,
})
const yard = plane.toDegrees(0, 0)
const whole: Filled = {
  date: '2026-11-25',
  crew: {
    id: 'crew-b',
    name: 'Crew B',
    letter: 'B',
    level: 3,
    start: yard,
    end: yard,
    hours: Array.from({ length: 7 }, () => ({ fromMinute: 480, toMinute: 960 })),
    breakMinutes: 0,
  },
  daySheet: {
    id: 'sheet',
    crewId: 'crew-b',
    date: '2026-11-25',
    startMinute: 480,
    endMinute: 600,
    travelMinutes: 0,
    travelM: 300,
    serviceMinutes: 36,
    publishedAt: '2026-11-24T12:00:00Z',
    stops: [stop('a', 100, 482), stop('b', 200, 496), stop('c', 300, 510)],
  },
  nextDate: null,
  otherCrews: [],
  detourFactor: 1,
}
/** Minutes of a way without detour: 1.25 m/s on foot, or 6 m/s by car and a minute to park, the assumptions of every plan (README). */
const way = (metres: number) => Math.round(Math.min(metres / 1.25, metres / 6 + 60)) / 60
let seq = 0
const entry = <K extends EntryKind>(
  kind: K,
  body: EntryBody<K>,
  more: Partial<KeptEntry> = {},
): KeptEntry => ({
  seq: ++seq,
  ...waitingEntry({
    key: `key-${seq}`,
    kind,
    authorId: 'l.sand',
    subjectId: 'any',
    treeId: null,
    label: '',
    madeAt: '2026-11-24T20:00:00Z',
    clockOffsetMs: 0,
    body,
  }),
  ...more,
})
const around = { timeZone: 'UTC', fetchedAt: 1000, addedTrees: new Map([['d', treeOf('d', 50)]]) }
const see = (...entries: KeptEntry[]) => dayAsHere(whole, entries, around)
const order = (...entries: KeptEntry[]) => see(...entries).whole.daySheet.stops.map((one) => one.id)
const skip = (stopId: string, more: Partial<KeptEntry> = {}) =>
  entry('stop-end', { stopId, visitId: null, skippedBecause: 'Gate locked' }, more)
const move = (stopIds: string[], more: Partial<KeptEntry> = {}) =>
  entry('day-order', { daySheetId: 'sheet', stopIds, because: '' }, more)

describe('the day as the device knows it', () => {
  it('is the office’s sheet where nothing was entered', () => {
    expect(see()).toEqual({
      whole,
      waiting: new Set(),
      refused: new Set(),
      orderWaits: false,
      orderRefused: false,
    })
  })
  it('ends a stop that was skipped or visited here, and says that the office lacks it', () => {
    const closing = { visit: { id: 'visit-1', treeId: 'tree-b' } } as unknown as EntryBody<'closing'>
    const here = see(skip('a'), entry('closing', closing), skip('c', { state: 'sent', sentAt: 5 }))
    expect(here.whole.daySheet.stops.map((s) => [s.doneVisitId, s.skippedBecause])).toEqual([
      [null, 'Gate locked'],
      ['visit-1', null],
      [null, 'Gate locked'],
    ])
    expect([...here.waiting]).toEqual(['a', 'b'])
  })
  it('leaves out what the office refused, and points at it', () => {
    const here = see(skip('a', { state: 'refused' }))
    expect(here.whole).toEqual(whole)
    expect([...here.refused]).toEqual(['a'])
  })
  it('takes orders in the order in which they were made, whatever their clocks say, and never moves what has an end', () => {
    const [first, ended, second] = [
      move(['c', 'b', 'a'], { madeAt: '2026-11-30T00:00:00Z' }),
      skip('c'),
      move(['b', 'c', 'a'], { madeAt: '2020-01-01T00:00:00Z' }),
    ]
    expect(order(second, ended, first)).toEqual(['c', 'b', 'a'])
    expect(see(first)).toMatchObject({ orderWaits: true, orderRefused: false, waiting: new Set() })
    expect(see({ ...first, state: 'refused' })).toMatchObject({
      orderWaits: false,
      orderRefused: true,
      whole,
    })
  })
  it('does not put an order over a sheet that came after it', () => {
    expect(order(move(['c'], { state: 'sent', sentAt: 900 }))).toEqual(['a', 'b', 'c'])
    expect(order(move(['c'], { state: 'sent', sentAt: 1100 }))).toEqual(['c', 'a', 'b'])
  })
  it('tells the clock again, by the faster of walking and driving, to the whole second', () => {
    const { stops, travelM } = see(move(['c', 'a', 'b'])).whole.daySheet
    const [toC, toA, toB] = [way(300), way(200), way(100)]
    expect(stops[0]!.arriveMinute).toBeCloseTo(480 + toC, 6)
    expect(stops[1]!.arriveMinute).toBeCloseTo(480 + toC + 12 + toA, 6)
    expect(stops[2]!.arriveMinute).toBeCloseTo(480 + toC + 24 + toA + toB, 6)
    expect(travelM).toBe(300 + 200 + 100 + 200)
  })
  it('goes on from the minute at which the order was made, put right by the clock’s offset', () => {
    const made = { madeAt: '2026-11-25T09:00:00Z', clockOffsetMs: 1_800_000 }
    expect(see(move(['a'], made)).whole.daySheet.stops[0]!.arriveMinute).toBeCloseTo(570 + way(100), 6)
  })
  it('puts trees on the day once, known or found, and takes handed-over stops off it', () => {
    const added = entry('stop-added', {
      stopId: 'd',
      daySheetId: 'sheet',
      treeId: 'tree-d',
      level: 1,
      because: 'A limb hangs',
    })
    expect(order(added, { ...added, seq: 900 })).toEqual(['a', 'b', 'c', 'd'])
    const tree = { ...treeOf('N1', 10), stems: [{ diameterCm: 30, measuredAtM: 1.3 }] } as never
    const found = entry('found-tree', {
      id: 'n',
      tree,
      stop: { id: 'e', daySheetId: 'sheet', level: 2 },
      fallen: null,
    })
    const here = see(found)
    expect(here.whole.daySheet.stops.at(-1)).toMatchObject({
      id: 'e',
      tree: { tag: 'N1', stemDiameterCm: 30 },
    })
    const ended = skip('a')
    const given = entry('hand-over', {
      daySheetId: 'sheet',
      toCrewId: 'crew-c',
      stopIds: ['a', 'b'],
      because: 'No lift',
    })
    expect(order(ended, given)).toEqual(['a', 'c'])
  })
  it('leaves other days alone', () => {
    const other = entry('day-order', { daySheetId: 'another', stopIds: ['c'], because: '' })
    expect(see(other, skip('z')).whole).toEqual(whole)
  })
})
