import { describe, expect, it } from 'vitest'
import { restOf, sayMonths, weeksOf } from './profile.ts'

describe('months in words', () => {
  it('joins neighbours over the turn of the year', () => {
    expect(sayMonths([6, 7, 8])).toBe('Jun to Aug')
    expect(sayMonths([1, 12, 2])).toBe('Dec to Feb')
    expect(sayMonths([10, 4])).toBe('Apr, Oct')
    expect(sayMonths([11, 12])).toBe('Nov and Dec')
    expect(sayMonths([5])).toBe('May')
    expect(sayMonths([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12])).toBe('all year')
  })
  it('leaves to the rest what no season names', () => {
    expect(restOf([{ months: [1, 2, 3, 4, 5] }, { months: [12] }])).toEqual([6, 7, 8, 9, 10, 11])
    expect(restOf([])).toHaveLength(12)
  })
})

describe('the weeks of a zone', () => {
  const occupancy = { kind: 'class', word: 'constant', peopleWhenPresent: 2 } as const
  const closed = { kind: 'class', word: 'constant', peopleWhenPresent: 0 } as const
  it('are one without seasons, and the rest beside the seasons', () => {
    expect(weeksOf({ occupancy, seasons: [] })).toMatchObject([{ name: '' }])
    const [rest, winter] = weeksOf({
      occupancy,
      seasons: [{ name: 'Closed', months: [11, 12, 1, 2], occupancy: closed }],
    })
    expect([rest!.months, winter!.months]).toEqual([
      [3, 4, 5, 6, 7, 8, 9, 10],
      [11, 12, 1, 2],
    ])
    expect([rest!.people[0], winter!.people[0]]).toEqual([2, 0])
  })
  it('have no rest where seasons name every month', () => {
    const months = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]
    expect(weeksOf({ occupancy, seasons: [{ name: 'All', months, occupancy }] })).toHaveLength(1)
  })
})
