import type { Due } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { dueWords } from './dueWords.ts'

const due = (more: Partial<Due>): Due => ({
  treeId: '00000000-0000-4000-8000-000000000001',
  on: '2026-11-03',
  kind: 'look',
  level: 2,
  reason: 'high beside a constant target, every 6 months, in leaf',
  outOfSeason: false,
  lookOn: null,
  policyEdition: 'first',
  ...more,
})
// Lengths counted on the calendar by hand: 3 Nov to 25 Nov 2026 is 22 days, 30 Jun to 25 Nov is 148.
describe('what is due, in words', () => {
  it('says how late a look is', () => {
    expect(dueWords(due({}), '2026-11-25')).toEqual({
      heading: 'Look 3 weeks overdue',
      late: true,
      lines: ['Due 3 Nov: high beside a constant target, every 6 months, in leaf.'],
    })
  })
  it('says late work first and the look that waits under it after', () => {
    const words = dueWords(
      due({ kind: 'work', on: '2026-06-30', reason: 'Reduce the crown by 4 m.', lookOn: '2026-11-03' }),
      '2026-11-25',
    )
    expect(words.heading).toBe('Work 21 weeks late')
    expect(words.lines).toEqual(['Due 30 Jun: reduce the crown by 4 m.', 'Look 3 weeks overdue, due 3 Nov.'])
  })
  it('says the work itself where its description is known, and keeps the reason for a look', () => {
    const late = due({ kind: 'work', on: '2026-06-30', reason: 'Untreated, a high tree follows its work.' })
    expect(dueWords(late, '2026-11-25', 'Reduce the crown by 4 m').lines[0]).toBe(
      'Due 30 Jun: reduce the crown by 4 m.',
    )
    expect(dueWords(late, '2026-11-25').lines[0]).toBe('Due 30 Jun: untreated, a high tree follows its work.')
    expect(dueWords(due({ reason: 'High.' }), '2026-11-25', 'Reduce the crown').lines[0]).toBe(
      'Due 3 Nov: high.',
    )
  })
  it('says what comes, with the year where it is another', () => {
    expect(dueWords(due({ on: '2027-05-03' }), '2026-11-25').heading).toBe('Look in 23 weeks')
    expect(dueWords(due({ on: '2027-05-03' }), '2026-11-25').lines[0]).toMatch(/^Due 3 May 2027: /)
    expect(dueWords(due({ kind: 'baseline', on: '2026-11-25' }), '2026-11-25').heading).toBe(
      'First look due today',
    )
  })
  it('says when nothing is due', () => {
    expect(dueWords(null, '2026-11-25').late).toBe(false)
  })
})
