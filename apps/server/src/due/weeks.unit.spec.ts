import { describe, expect, it } from 'vitest'
import { weeksOf } from './weeks.ts'

// By the calendar: 25 November 2026 is a Wednesday, 23 November a Monday.
describe('counts by day into weeks', () => {
  const days = [
    { on: '2026-10-01', risk: 'high', count: 2 },
    { on: '2026-11-22', risk: 'low', count: 1 },
    { on: '2026-11-23', risk: 'low', count: 4 },
    { on: '2026-11-24', risk: null, count: 3 },
    { on: '2026-11-25', risk: 'extreme', count: 1 },
    { on: '2026-11-30', risk: 'moderate', count: 5 },
    { on: '2026-12-07', risk: 'moderate', count: 9 },
  ] as Parameters<typeof weeksOf>[0]
  const weeks = weeksOf(days, '2026-11-25', '2026-11-16', '2026-12-06')

  it('gives every week from Monday, and puts what is older into the first', () => {
    expect(weeks.map(({ week, due }) => [week, due])).toEqual([
      ['2026-11-16', { low: 1, moderate: 0, high: 2, extreme: 0, unrated: 0 }],
      ['2026-11-23', { low: 4, moderate: 0, high: 0, extreme: 1, unrated: 3 }],
      ['2026-11-30', { low: 0, moderate: 5, high: 0, extreme: 0, unrated: 0 }],
    ])
  })

  it('takes for late what was due before today, not what is due today', () => {
    expect(weeks.map(({ late }) => late)).toEqual([
      { low: 1, moderate: 0, high: 2, extreme: 0, unrated: 0 },
      { low: 4, moderate: 0, high: 0, extreme: 0, unrated: 3 },
      { low: 0, moderate: 0, high: 0, extreme: 0, unrated: 0 },
    ])
  })
})
