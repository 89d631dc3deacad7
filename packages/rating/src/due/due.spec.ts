import { due as dueRecord, type Rating, type VisitLevel } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { startingPolicy } from '../policy/starting.ts'
import { baselineRamp, baselineShares, type UnseenTree } from './baseline.ts'
import { dueOf, isOverdue, riskDays } from './due.ts'
import { dueRatingOf, untreatedSince } from './from-records.ts'
import type { DueInput, DueRating, DueWork } from './input.ts'

const rating: DueRating = {
  ratedOn: '2026-01-10',
  risk: 'high',
  residualRisk: 'low',
  worstFailure: 'probable',
  partSize: 'large',
  changeRate: 'ordinary',
  occupancyWords: ['constant'],
}
const reduce: DueWork = {
  kind: 'reduce',
  state: 'approved',
  dueOn: '2026-06-30',
  doneOn: null,
  residualRisk: null,
}
const look = (on: string, level: VisitLevel = 2) => ({ on, level, closed: true })
const tree: DueInput = {
  treeId: '3f0c1a52-7d0e-4d4b-9a51-5f3b8d1c2e10',
  status: 'standing',
  importedOn: '2025-01-15',
  hemisphere: 'north',
  lastVisits: [look('2026-01-10')],
  rating,
  works: [reduce],
  events: [],
  zoneUse: 'constant',
  stemDiameterCm: 80,
  rankInBaseline: 0.5,
}
const dueWith = (over: Partial<DueInput>) => dueOf({ ...tree, ...over }, startingPolicy)!
const ratedAs = (over: Partial<DueRating>) => ({ ...rating, ...over })

describe('an untreated tree', () => {
  it('follows its work, and no look silences it', () => {
    expect(dueWith({})).toMatchObject({ on: '2026-06-30', kind: 'work', lookOn: '2026-07-10' })
    for (const on of ['2026-07-01', '2027-01-15', '2028-02-01'])
      expect(dueWith({ lastVisits: [...tree.lastVisits, look(on, 3)] })).toMatchObject({
        on: '2026-06-30',
        kind: 'work',
      })
  })

  it('has the deadline of its risk while no work is open, refused or only looked at', () => {
    const on = (risk: DueRating['risk'], worstFailure: DueRating['worstFailure'], works: DueWork[]) =>
      dueWith({ works, rating: ratedAs({ risk, worstFailure }) }).on
    expect(on('high', 'probable', [])).toBe('2026-04-10')
    expect(on('high', 'probable', [{ ...reduce, state: 'refused' }])).toBe('2026-04-10')
    expect(on('high', 'probable', [{ ...reduce, kind: 'monitor' }])).toBe('2026-04-10')
    expect(on('extreme', 'probable', [])).toBe('2026-01-17')
    expect(on('low', 'imminent', [])).toBe('2026-01-11')
  })

  it('is looked at before its work where the work was put far away', () => {
    expect(dueWith({ works: [{ ...reduce, dueOn: '2027-06-30' }] })).toMatchObject({
      kind: 'look',
      on: '2026-07-10',
    })
  })

  it('counts as treated once its work is done after the rating, and none is open', () => {
    const finished: DueWork = { ...reduce, state: 'done', doneOn: '2026-03-02' }
    expect(dueWith({ works: [finished] })).toMatchObject({ kind: 'look', on: '2027-03-31' })
    expect(dueWith({ works: [finished, reduce] }).kind).toBe('work')
    expect(dueWith({ works: [finished, { ...reduce, dueOn: '2029-01-01' }] }).on).toBe('2026-07-10')
    expect(dueWith({ works: [{ ...finished, doneOn: '2025-12-01' }] }).kind).toBe('work')
    expect(dueWith({ works: [{ ...finished, doneOn: null }] }).kind).toBe('work')
  })

  it('keeps its rated risk when the work that was done is not all that was asked for', () => {
    const finished: DueWork = { ...reduce, state: 'done', doneOn: '2026-03-02' }
    const brace: DueWork = { ...reduce, kind: 'brace', state: 'refused' }
    expect(dueWith({ works: [finished, brace] }).on).toBe('2026-07-10')
    expect(dueWith({ works: [{ ...finished, residualRisk: 'moderate' }, brace] }).on).toBe('2027-01-10')
  })
})

describe('since when a tree stands untreated', () => {
  const rated = (
    ratedOn: string,
    risk: DueRating['risk'],
    worstFailure: DueRating['worstFailure'] = 'probable',
  ) => ({
    ratedOn,
    risk,
    worstFailure,
  })
  it('is the first rating of its present risk or worse, not the last', () => {
    const run = [rated('2026-05-01', 'high'), rated('2026-02-01', 'extreme'), rated('2025-02-01', 'high')]
    expect(untreatedSince(run, [])).toBe('2025-02-01')
    expect(untreatedSince([rated('2026-06-01', 'extreme'), ...run], [])).toBe('2026-06-01')
    expect(untreatedSince([rated('2026-06-01', 'low', 'imminent'), ...run], [])).toBe('2026-06-01')
    const deadline = dueWith({
      works: [],
      rating: ratedAs({ ratedOn: '2026-05-01', untreatedSince: '2025-02-01' }),
    })
    expect(deadline.on).toBe('2025-05-02')
  })

  it('starts anew after a work that was done, and not after one that only monitors', () => {
    const run = [rated('2026-05-01', 'high'), rated('2025-02-01', 'high')]
    const finished: DueWork = { ...reduce, state: 'done', doneOn: '2025-09-01' }
    expect(untreatedSince(run, [finished])).toBe('2026-05-01')
    expect(untreatedSince(run, [{ ...finished, kind: 'monitor' }])).toBe('2025-02-01')
    expect(() => untreatedSince([], [])).toThrow(RangeError)
  })
})

describe('looking', () => {
  const calm = { works: [], rating: ratedAs({ risk: 'moderate', residualRisk: null }) }
  it('goes by the heaviest use, of the zone within reach or of a target rated', () => {
    expect(dueWith({ ...calm, zoneUse: 'rare' }).on).toBe('2027-01-10')
    expect(dueWith({ ...calm, rating: { ...calm.rating, occupancyWords: ['rare'] } }).on).toBe('2027-01-10')
  })

  it('on a lower level does not restart the clock of a higher one', () => {
    expect(dueWith(calm).on).toBe('2027-01-10')
    expect(dueWith({ ...calm, lastVisits: [look('2026-01-10'), look('2026-09-01', 1)] }).on).toBe(
      '2027-01-10',
    )
    expect(dueWith({ ...calm, lastVisits: [look('2026-01-10'), look('2026-12-01', 2)] }).on).toBe(
      '2027-12-01',
    )
  })

  it('counts only when it was closed', () => {
    const open = { on: '2026-12-01', level: 3 as const, closed: false }
    expect(dueWith({ ...calm, lastVisits: [look('2026-01-10'), open] }).on).toBe('2027-01-10')
  })

  it('answers an event on its level; on the same day only where the event must have come first', () => {
    const kind = (k: 'gust' | 'complaint' | 'digging', visits = tree.lastVisits) =>
      dueWith({ ...calm, lastVisits: visits, events: [{ on: '2026-03-01', kind: k, lookWithinDays: 10 }] }).on
    const before = tree.lastVisits
    expect(kind('gust')).toBe('2026-03-11')
    expect(kind('gust', [...before, look('2026-03-01', 1)])).toBe('2026-03-11')
    expect(kind('gust', [...before, look('2026-03-02', 1)])).toBe('2027-01-10')
    expect(kind('complaint', [...before, look('2026-03-01', 1)])).toBe('2027-01-10')
    expect(kind('digging', [...before, look('2026-03-05', 1)])).toBe('2026-03-11')
  })

  it('deeper, where a work asks for it, is level 3 by its date', () => {
    const deeper: DueWork = { ...reduce, kind: 'look-deeper', dueOn: '2026-05-01' }
    expect(dueWith({ ...calm, works: [deeper] })).toMatchObject({ kind: 'look', level: 3, on: '2026-05-01' })
  })
})

describe('the due record', () => {
  it('is one, with one sentence made of its rules', () => {
    const due = dueWith({})
    expect(dueRecord.safeParse(due).success).toBe(true)
    expect(due.reason).toBe('Untreated, a high tree follows its work: reduce, by 30 Jun 2026.')
    expect(due.policyEdition).toBe(startingPolicy.edition)
    const inLeaf = dueWith({ works: [{ ...reduce, dueOn: '2029-01-01' }], leafPreference: 'in-leaf' })
    expect(inLeaf.reason).toBe('High beside a constant target, every 6 months, in leaf.')
  })

  it('says when it is out of season', () => {
    const due = dueWith({ works: [{ ...reduce, dueOn: '2029-01-01' }] })
    expect(due).toMatchObject({ on: '2026-07-10', outOfSeason: true })
    expect(due.reason).toContain('out of season, plan a second look')
  })

  it('is nothing for a tree that is gone or a stump', () => {
    for (const status of ['gone', 'stump'] as const)
      expect(dueOf({ ...tree, status }, startingPolicy)).toBeNull()
  })

  it('is overdue from the day after, and weighs its days by risk', () => {
    const due = { on: '2026-06-30' }
    expect(isOverdue(due, '2026-06-30')).toBe(false)
    expect(isOverdue(due, '2026-07-01')).toBe(true)
    expect(riskDays(due, 'high', '2026-07-10', startingPolicy)).toBe(100)
    expect(riskDays(due, 'high', '2026-06-01', startingPolicy)).toBe(0)
    expect(riskDays(due, null, '2026-07-10', startingPolicy)).toBe(30)
  })
})

describe('trees nobody has looked at', () => {
  const unseen = (treeId: string, over: Partial<UnseenTree> = {}): UnseenTree => ({
    treeId,
    importedOn: '2026-01-31',
    zoneUse: 'constant',
    stemDiameterCm: 40,
    ...over,
  })

  it('are spread by use, constant first, and by stem, largest first', () => {
    const ramp = baselineRamp(
      [
        unseen('small', { stemDiameterCm: 10 }),
        unseen('large', { stemDiameterCm: 90 }),
        unseen('unknown', { stemDiameterCm: null }),
        unseen('frequent', { zoneUse: 'frequent' }),
        unseen('occasional', { zoneUse: 'occasional' }),
        unseen('nothing near', { zoneUse: null }),
      ],
      startingPolicy,
    )
    expect([...ramp].sort((a, b) => (a[1] < b[1] ? -1 : 1))).toEqual([
      ['unknown', '2026-03-02'],
      ['large', '2026-04-01'],
      ['small', '2026-04-30'],
      ['frequent', '2026-07-31'],
      ['occasional', '2027-01-31'],
      ['nothing near', '2028-01-31'],
    ])
  })

  it('do not come in one pile, nor before the day after they came in', () => {
    const trees = Array.from({ length: 900 }, (_, i) => unseen(`tree ${i}`, { stemDiameterCm: 1 + i }))
    const ramp = baselineRamp(trees, startingPolicy)
    const byDay = new Map<string, number>()
    for (const on of ramp.values()) byDay.set(on, (byDay.get(on) ?? 0) + 1)
    expect(Math.max(...byDay.values())).toBeLessThanOrEqual(12)
    expect([...ramp.values()].sort()[0]).toBe('2026-02-01')
    expect(baselineShares(trees).get('tree 899')).toBeCloseTo(1 / 900, 12)
  })

  it('are never due on the day they came in, and an unknown place counts as the last', () => {
    const never = { rating: null, works: [], lastVisits: [] }
    expect(dueWith({ ...never, rankInBaseline: 0 }).on).toBe('2025-01-16')
    expect(dueWith({ ...never, rankInBaseline: null }).on).toBe('2025-04-15')
  })

  it('have the date of the ramp as their due date', () => {
    const due = dueWith({ rating: null, works: [], lastVisits: [], rankInBaseline: 1 })
    expect(due).toMatchObject({ kind: 'baseline', on: '2025-04-15', level: 2 })
    expect(due.reason).toMatch(/^Never looked at, beside a constant target/)
  })

  it('stay due for their first look after a look on too low a level', () => {
    const due = dueWith({ rating: null, works: [], lastVisits: [look('2025-02-01', 1)], rankInBaseline: 1 })
    expect(due).toMatchObject({ kind: 'baseline', on: '2025-04-15' })
  })
})

it('reads a stored rating: worst failure word, size of the worst part, words of the zones that still exist', () => {
  const target = { zoneId: 'walk', targetName: 'Kirk Walk' }
  const stored = {
    risk: 'high',
    residualRisk: null,
    changeRate: 'fast',
    worst: { scenarioId: 'limb' },
    scenarios: [
      {
        id: 'limb',
        failure: 'possible',
        partSize: 'small',
        targets: [target, { ...target, zoneId: 'closed' }],
      },
      { id: 'stem', failure: 'imminent', partSize: 'large', targets: [{ ...target, zoneId: null }] },
    ],
  } as unknown as Rating
  expect(dueRatingOf(stored, '2026-01-10', (zone) => (zone === 'walk' ? 'frequent' : null))).toEqual({
    ratedOn: '2026-01-10',
    risk: 'high',
    residualRisk: null,
    worstFailure: 'imminent',
    partSize: 'small',
    changeRate: 'fast',
    occupancyWords: ['frequent'],
  })
})
