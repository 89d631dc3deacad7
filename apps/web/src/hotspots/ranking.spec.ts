import { describe, expect, it } from 'vitest'
import type { SpotFigures } from './hooks.ts'
import { asksExpected, questionOf, wordsOf } from './question.ts'
import { axisOf, lastMonth, sayChange, sayFigure, sayWorst } from './ranking.ts'

const spread = (mean: number, most = mean) => ({ mean, least: 0, most })
const figures = (mean: number, extreme = 0, high = 0, moderate = 0): SpotFigures => ({
  people: spread(mean),
  sumModerate: 4,
  trees: 9,
  treesModerate: moderate,
  treesHigh: high,
  treesExtreme: extreme,
})

describe('what the list says', () => {
  it('has an axis of whole decades on which the longest bar has its place', () => {
    expect(axisOf([{ people: spread(1, 9) }])).toEqual({ from: 0.01, to: 10 })
    expect(axisOf([{ people: spread(1, 10) }])).toEqual({ from: 0.01, to: 10 })
    expect(axisOf([{ people: spread(1, 10.1) }])).toEqual({ from: 0.01, to: 100 })
    expect(axisOf([])).toEqual({ from: 0.01, to: 10 })
  })
  it('names each word of the ratings for its own trees alone', () => {
    expect(sayFigure('rating', figures(1, 1, 3, 8))).toBe('1 extreme, 2 high')
    expect(sayFigure('rating', figures(1, 0, 0, 5))).toBe('5 moderate')
    expect(sayFigure('rating', figures(1))).toBe('none')
    expect(sayFigure('one', figures(2.14))).toBe('2.1')
  })
  it('says what moved by the figure it is ranked by', () => {
    expect(sayChange('one', { change: 'up', before: figures(1.2) })).toBe('up from 1.2')
    expect(sayChange('rating', { change: 'down', before: figures(1, 2, 2, 2) })).toBe('down from 2 extreme')
    expect(sayChange('one', { change: 'new', before: null })).toBe('new')
    expect(sayChange('one', { change: 'same', before: figures(1) })).toBe('')
  })
  it('counts the others beside the tree it names', () => {
    const tree = (risk: 'high' | 'low' | null) => ({ tag: '0417', risk }) as never
    expect(sayWorst({ worst: [tree('high')], treesModerate: 4 })).toBe('0417, high; 3 more')
    expect(sayWorst({ worst: [tree('low')], treesModerate: 2 })).toBe('0417, low; 2 more')
    expect(sayWorst({ worst: [tree(null)], treesModerate: 0 })).toBe('0417, not yet rated')
  })
  it('names the month before a day', () => {
    expect([lastMonth('2026-11-25'), lastMonth('2026-01-01')]).toEqual(['October', 'December'])
  })
})

describe('the address of a list', () => {
  it('says only what differs from the first list, and is read back as it was asked', () => {
    const first = { of: 'zones', basis: 'one', siteId: null, kind: null } as const
    expect(wordsOf(first)).toEqual({})
    for (const asked of [
      first,
      { ...first, basis: 'rating', kind: 'play' },
      { ...first, of: 'cells', siteId: 'a' },
    ] as const)
      expect(questionOf(new URLSearchParams(wordsOf(asked)))).toEqual(asked)
    expect(questionOf(new URLSearchParams('kind=castle&by=luck'))).toEqual(first)
    expect(questionOf(new URLSearchParams('of=cells&kind=play')).kind).toBe(null)
    expect(
      ['by=expected', 'of=cells&by=expected', 'by=one'].map((w) => asksExpected(new URLSearchParams(w))),
    ).toEqual([true, false, false])
  })
})
