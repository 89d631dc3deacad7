import type { Work } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { byDue, lateDays, shows, type WorkOfTree } from './order.ts'

const work = (id: string, change: Partial<Work>): Work => ({
  id,
  treeId: 't',
  visitId: null,
  kind: 'reduce',
  description: '',
  dueOn: null,
  cost: null,
  residualRisk: null,
  state: 'proposed',
  doneOn: null,
  doneBy: null,
  decision: null,
  ...change,
})
const answered = (answer: 'accepted' | 'refused' | 'deferred', on = '2026-11-01') => ({
  answer,
  by: 'H. Lark',
  on,
  reason: '',
})
const today = '2026-11-25'
const tree = {} as WorkOfTree['tree']

describe('works by their date', () => {
  it('late ones first, the longest late before all, dateless last, and what is over after them with the latest first', () => {
    const works = [
      work('done early', { state: 'done', doneOn: '2026-01-04' }),
      work('no date', {}),
      work('next month', { dueOn: '2026-12-20', state: 'approved' }),
      work('done lately', { state: 'done', doneOn: '2026-11-20', dueOn: '2026-02-01' }),
      work('a day late', { dueOn: '2026-11-24' }),
      work('a year late', { dueOn: '2025-11-25' }),
      work('refused', { state: 'refused', decision: answered('refused', '2026-06-01') }),
    ]
    expect(byDue(works.map((w) => ({ work: w, tree }))).map((row) => row.work.id)).toEqual([
      'a year late',
      'a day late',
      'next month',
      'no date',
      'done lately',
      'refused',
      'done early',
    ])
  })

  it('only what is still to be done can be late, from the day after its date', () => {
    expect(lateDays(work('', { dueOn: '2026-11-25' }), today)).toBe(0)
    // 2025 is no leap year: 25 November to 25 November is 365 days (Gregorian calendar).
    expect(lateDays(work('', { dueOn: '2025-11-25' }), today)).toBe(365)
    expect(lateDays(work('', { dueOn: '2025-11-25', state: 'done' }), today)).toBe(0)
    expect(lateDays(work('', { dueOn: '2025-11-25', state: 'refused' }), today)).toBe(0)
    expect(lateDays(work('', {}), today)).toBe(0)
  })

  it('waits for the owner until it is accepted: a deferred work still waits', () => {
    expect(shows('undecided', work('', {}), today)).toBe(true)
    expect(shows('undecided', work('', { decision: answered('deferred') }), today)).toBe(true)
    expect(shows('undecided', work('', { state: 'approved', decision: answered('accepted') }), today)).toBe(
      false,
    )
    expect(shows('undecided', work('', { state: 'refused', decision: answered('refused') }), today)).toBe(
      false,
    )
    expect(shows('refused', work('', { state: 'refused' }), today)).toBe(true)
  })
})
