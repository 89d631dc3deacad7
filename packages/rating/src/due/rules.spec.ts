import { describe, expect, it } from 'vitest'
import { startingPolicy } from '../policy/starting.ts'
import { dueOf, rulesApplied } from './due.ts'
import type { DueInput, DueRating, DueWork } from './input.ts'
import { type RuleName, rules } from './rules.ts'

const rating: DueRating = {
  ratedOn: '2025-02-10',
  risk: 'moderate',
  residualRisk: null,
  worstFailure: 'possible',
  partSize: 'medium',
  changeRate: 'ordinary',
  occupancyWords: ['constant'],
}
const tree: DueInput = {
  treeId: 'a tree on Kirk Walk',
  status: 'standing',
  importedOn: '2024-01-15',
  hemisphere: 'north',
  lastVisits: [{ on: '2025-02-10', level: 2, closed: true }],
  rating,
  works: [],
  events: [],
  zoneUse: 'constant',
  stemDiameterCm: 40,
  rankInBaseline: 0.5,
}
const reduce: DueWork = {
  kind: 'reduce',
  state: 'approved',
  dueOn: '2025-06-30',
  doneOn: null,
  residualRisk: null,
}
const seen = (on: string, level: 1 | 2 | 3 = 2) => ({ lastVisits: [{ on, level, closed: true }] })
const rated = (over: Partial<DueRating>) => ({ rating: { ...rating, ...over } })
const gust = (on: string) => ({ events: [{ on, kind: 'gust' as const, lookWithinDays: null }] })
/** Low over little use: 48 months for a medium part. */
const quiet = { zoneUse: 'occasional', ...rated({ risk: 'low', occupancyWords: [] }) } as const

/** For every rule one case in which it shapes the date and one in which it does not. */
const cases: Record<RuleName, [applies: Partial<DueInput>, not: Partial<DueInput>]> = {
  'gone-is-not-due': [{ status: 'gone' }, { status: 'pole' }],
  'never-seen': [{ lastVisits: [], rating: null }, {}],
  'level-not-reached': [{ ...seen('2024-01-20', 1), rating: null }, seen('2024-01-20', 2)],
  'interval-by-case': [quiet, {}],
  'risk-caps-interval': [{}, quiet],
  'residual-risk-counts': [
    {
      ...rated({ risk: 'high', residualRisk: 'low' }),
      works: [{ ...reduce, state: 'done', doneOn: '2025-03-01' }],
    },
    {
      ...rated({ risk: 'high', residualRisk: 'low' }),
      works: [{ ...reduce, state: 'done', doneOn: '2025-02-01' }],
    },
  ],
  'not-rated': [{ rating: null }, {}],
  'rated-elsewhere': [{ lastVisits: [], ...rated({ ratedOn: '2023-02-10' }) }, { lastVisits: [] }],
  'heaviest-use-counts': [{ zoneUse: 'rare' }, {}],
  'lesser-look-keeps-clock': [
    {
      lastVisits: [
        { on: '2025-02-10', level: 2, closed: true },
        { on: '2025-08-01', level: 1, closed: true },
      ],
    },
    {
      lastVisits: [
        { on: '2025-02-10', level: 2, closed: true },
        { on: '2025-08-01', level: 3, closed: true },
      ],
    },
  ],
  'month-end': [{ ...seen('2024-02-29') }, seen('2024-02-28')],
  'season-moved-earlier': [seen('2025-04-15'), seen('2025-02-10')],
  'season-waits': [
    { ...seen('2024-10-15'), leafPreference: 'out-of-leaf' },
    { ...seen('2024-09-15'), leafPreference: 'out-of-leaf' },
  ],
  'season-missed': [seen('2024-09-15'), { ...seen('2024-09-15'), leafPreference: 'any' }],
  'event-brings-forward': [gust('2025-03-01'), { ...gust('2025-02-01') }],
  'work-asks-for-look': [{ works: [{ ...reduce, kind: 'monitor' }] }, { works: [reduce] }],
  'untreated-follows-work': [{ ...rated({ risk: 'high' }), works: [reduce] }, { works: [reduce] }],
  'no-work-proposed': [rated({ risk: 'high' }), { ...rated({ risk: 'high' }), works: [reduce] }],
  'imminent-is-an-action': [rated({ worstFailure: 'imminent' }), rated({ worstFailure: 'probable' })],
  'refused-is-untreated': [
    { ...rated({ risk: 'high' }), works: [{ ...reduce, state: 'refused' }] },
    { ...rated({ risk: 'high' }), works: [reduce] },
  ],
  'work-deadline-by-risk': [
    { ...rated({ risk: 'high' }), works: [{ ...reduce, dueOn: null }] },
    { ...rated({ risk: 'high' }), works: [reduce] },
  ],
  'open-work-comes-first': [{ works: [reduce] }, { works: [{ ...reduce, dueOn: '2029-01-01' }] }],
}

describe.each(Object.keys(rules) as RuleName[])('%s', (rule) => {
  const [applies, not] = cases[rule]
  it('applies', () => expect(rulesApplied({ ...tree, ...applies }, startingPolicy)).toContain(rule))
  it('does not apply', () => expect(rulesApplied({ ...tree, ...not }, startingPolicy)).not.toContain(rule))
  it('is one sentence', () => expect(rules[rule]).toMatch(/^[A-Z][^.]*\.$/))
})

describe('an imminent tree', () => {
  const imminent = { ...tree, ...rated({ risk: 'high', worstFailure: 'imminent' }) }

  it('waits for no work that is dated later than its own deadline', () => {
    // Rated 10 Feb 2025; the starting policy gives imminent one day. A work dated 30 Jun does not buy it time.
    const due = dueOf({ ...imminent, works: [reduce] }, startingPolicy)
    expect(due).toMatchObject({ kind: 'work', on: '2025-02-11' })
    expect(due!.reason).toMatch(/act by 11 Feb 2025; its work is dated later, 30 Jun 2025/)
  })

  it('follows a work that is dated sooner', () => {
    const due = dueOf({ ...imminent, works: [{ ...reduce, dueOn: '2025-02-10' }] }, startingPolicy)
    expect(due).toMatchObject({ kind: 'work', on: '2025-02-10' })
  })
})
