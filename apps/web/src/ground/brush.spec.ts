import { addDays } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import {
  type Brush,
  brushDays,
  countWeeks,
  drawBrush,
  firstBrush,
  movePeg,
  narrowWeeks,
  pegAfterKey,
  sayCounts,
  spanOf,
  sumWithin,
} from './brush.ts'

// Mondays of the ISO 8601 calendar: 23 November 2026 is a Monday of week 48.
const monday = '2026-11-23'
const weeks = Array.from({ length: 10 }, (_, i) => ({ week: addDays(monday, 7 * (i - 3)) }))
const span = spanOf(weeks)!
const brush: Brush = { from: monday, to: addDays(monday, 21) }

describe('the pegs', () => {
  it('never pass one another and stay on the strip', () => {
    expect(movePeg(brush, 'from', addDays(monday, 70), span)).toEqual({
      from: addDays(monday, 14),
      to: brush.to,
    })
    expect(movePeg(brush, 'to', addDays(monday, -70), span)).toEqual({ from: monday, to: addDays(monday, 7) })
    expect(movePeg(brush, 'from', '2020-01-06', span).from).toBe(span.first)
    expect(movePeg(brush, 'to', '2030-01-07', span).to).toBe(span.end)
  })
  it('answer to keys by one week, four weeks, and the strip’s edges', () => {
    expect(pegAfterKey(brush, 'to', 'ArrowRight', span)?.to).toBe(addDays(monday, 28))
    expect(pegAfterKey(brush, 'from', 'ArrowLeft', span)?.from).toBe(addDays(monday, -7))
    expect(pegAfterKey(brush, 'to', 'PageUp', span)?.to).toBe(addDays(monday, 49))
    expect(pegAfterKey(brush, 'from', 'Home', span)?.from).toBe(span.first)
    expect(pegAfterKey(brush, 'to', 'End', span)?.to).toBe(span.end)
    expect(pegAfterKey(brush, 'to', 'a', span)).toBeNull()
  })
  it('are drawn anew in either direction, a week wide at least', () => {
    expect(drawBrush(addDays(monday, 14), monday, span)).toEqual({ from: monday, to: addDays(monday, 14) })
    expect(drawBrush(monday, monday, span)).toEqual({ from: monday, to: addDays(monday, 7) })
    expect(drawBrush(span.end, span.end, span)).toEqual({ from: addDays(span.end, -7), to: span.end })
    expect(firstBrush(monday, span)).toEqual({ from: addDays(monday, -21), to: addDays(monday, 21) })
  })
  it('have no beginning when they begin at the first column, which gathers all that is older', () => {
    // 23 Nov 2026 is day 20 780 since 1970-01-01 (56 years of 365 days, 14 leap days, 326 days: by hand).
    expect(brushDays(brush, span)).toEqual([20_780, 20_801])
    expect(brushDays({ ...brush, from: span.first }, span)[0]).toBeLessThan(-100_000)
  })
})

describe('the weeks', () => {
  const trees = [
    { risk: 'extreme' as const, week: monday, overdue: false },
    { risk: 'high' as const, week: addDays(monday, -7), overdue: true },
    { risk: null, week: '2019-05-06', overdue: true },
    { risk: 'low' as const, week: addDays(monday, 7 * 40), overdue: false },
    { risk: 'low' as const, week: null, overdue: false },
  ]
  const counted = countWeeks(trees, weeks)

  it('count each tree once, older ones in the first, those beyond the end nowhere', () => {
    expect(counted[3]!.due.extreme).toBe(1)
    expect(counted[2]).toMatchObject({ due: { high: 1 }, late: { high: 1 } })
    expect(counted[0]).toMatchObject({ due: { unrated: 1 }, late: { unrated: 1 } })
    expect(sumWithin(counted, null)).toEqual({ low: 0, moderate: 0, high: 1, extreme: 1, unrated: 1 })
    expect(sumWithin(counted, brush)).toEqual({ low: 0, moderate: 0, high: 0, extreme: 1, unrated: 0 })
  })
  it('narrow to some ratings, or to what is overdue', () => {
    expect(sumWithin(narrowWeeks(counted, { risks: ['high'] }), null)).toMatchObject({
      high: 1,
      extreme: 0,
      unrated: 0,
    })
    expect(sumWithin(narrowWeeks(counted, { overdue: true }), null)).toMatchObject({
      high: 1,
      extreme: 0,
      unrated: 1,
    })
  })
  it('are said worst first, and what is not there is not said', () => {
    expect(sayCounts({ low: 1028, moderate: 0, high: 12, extreme: 1, unrated: 3 })).toBe(
      '1 extreme, 12 high, 1,028 low, 3 not yet rated',
    )
    expect(sayCounts({ low: 0, moderate: 0, high: 0, extreme: 0, unrated: 0 })).toBe('')
  })
})
