import { addDays, riskWords } from '@underbough/model'
import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { attributes, noBadNumbers } from '../draw/read-back.ts'
import { type DueFacts, describeDue, dueCaption, monthBars } from './data.ts'
import { dueScale } from './scale.ts'
import { DueStrip } from './strip.tsx'

const week = (i: number, low: number, moderate: number, high: number, extreme: number) => ({
  weekOf: addDays('2026-11-16', 7 * i),
  counts: { low, moderate, high, extreme },
  capacity: i >= 1 ? 6 : null,
})
// The second week, from Monday 23 November, is this week.
const facts: DueFacts = {
  weeks: [
    week(0, 2, 1, 1, 0),
    week(1, 4, 0, 0, 0),
    week(2, 3, 3, 1, 1),
    week(3, 5, 0, 0, 0),
    week(4, 1, 0, 0, 0),
  ],
  today: '2026-11-25',
  brush: { from: '2026-11-23', to: '2026-12-07' },
  rounds: [{ letter: 'B', from: '2026-11-23', to: '2026-12-07' }],
}
const html = renderToStaticMarkup(<DueStrip {...facts} widthPx={600} heightPx={260} />)
const bars = [...html.matchAll(/<g data-week="([^"]+)" data-total="(\d+)">(.*?)<\/g>/gs)].map((m) => ({
  week: m[1]!,
  inside: m[3]!,
}))

describe('due strip', () => {
  it('draws every count as high as the counting lines say, extreme on the base line', () => {
    const lines = [...html.matchAll(/data-count="(\d+)" data-y="([\d.]+)"/g)].map((m) => [
      Number(m[1]),
      Number(m[2]),
    ])
    const perTree = (lines[0]![1]! - lines.at(-1)![1]!) / (lines.at(-1)![0]! - lines[0]![0]!)
    const rects = [
      ...bars
        .find((bar) => bar.week === '2026-11-30')!
        .inside.matchAll(/data-risk="(\w+)" x="[\d.]+" y="([\d.]+)" width="[\d.]+" height="([\d.]+)"/g),
    ]
    expect(rects.map((m) => m[1])).toEqual(['extreme', 'high', 'moderate', 'low'])
    expect(rects.map((m) => Math.round((Number(m[3]) + 1) / perTree))).toEqual([1, 1, 3, 3])
    const feet = rects.map((m) => Number(m[2]) + Number(m[3]))
    expect(feet).toEqual([...feet].sort((a, b) => b - a))
  })
  it('cuts weeks past and only those', () => {
    expect(bars.map((bar) => [bar.week, bar.inside.includes('data-part="cut"')])).toEqual([
      ['2026-11-16', true],
      ['2026-11-23', false],
      ['2026-11-30', false],
      ['2026-12-07', false],
      ['2026-12-14', false],
    ])
  })
  it('stands an extreme mark over the week that has one', () => {
    expect([...html.matchAll(/data-part="extreme"/g)]).toHaveLength(1)
    expect(
      renderToStaticMarkup(<DueStrip {...facts} weeks={facts.weeks.slice(0, 2)} widthPx={600} />),
    ).not.toContain('data-part="extreme"')
  })
  it('lightens the weeks outside the pegs', () => {
    expect(bars.find((bar) => bar.week === '2026-12-14')!.inside).toContain('fill-opacity="0.42"')
    expect(bars.find((bar) => bar.week === '2026-11-30')!.inside).not.toContain('fill-opacity')
  })
  it('draws the step of what the crews can visit, and the rounds in their line', () => {
    expect(attributes(html, 'data-part="capacity"')['stroke-dasharray']).toBe('1.5 3')
    expect(attributes(html, 'data-crew="B"')['stroke-dasharray']).toBe('8 3.2')
  })
  it('takes a place back to its Monday', () => {
    const scale = dueScale(facts, 600)
    for (const { weekOf } of facts.weeks) expect(scale.mondayAt(scale.xOf(weekOf))).toBe(weekOf)
    expect(scale.mondayAt(-50)).toBe('2026-11-16')
    expect(scale.mondayAt(9999)).toBe('2026-12-21')
  })
  it('has two pegs; with handlers they are sliders and the strip is a group', () => {
    expect([...html.matchAll(/data-part="peg"/g)]).toHaveLength(2)
    expect(html).toContain('role="img"')
    const pressed = renderToStaticMarkup(
      <DueStrip {...facts} pegs={{ from: { 'aria-valuenow': 1 }, to: {} }} />,
    )
    expect([...pressed.matchAll(/role="slider"/g)]).toHaveLength(2)
    expect(pressed).toContain('role="group"')
    expect(pressed).toContain('aria-valuenow="1"')
  })
  it('loses no tree when months are drawn for weeks', () => {
    const total = (counts: (typeof facts.weeks)[number]['counts'][]) =>
      riskWords.map((risk) => counts.reduce((sum, c) => sum + c[risk], 0))
    expect(total(monthBars(facts).map((bar) => bar.counts))).toEqual(total(facts.weeks.map((w) => w.counts)))
    expect(monthBars(facts)).toHaveLength(3)
    expect(noBadNumbers(renderToStaticMarkup(<DueStrip {...facts} by="months" widthPx={320} />))).toBe(true)
  })
  it('says what is late and what is between the pegs', () => {
    expect(dueCaption(facts)).toBe(
      '23 Nov 2026 to 6 Dec 2026: 12 trees: 1 extreme, 1 high, 3 moderate and 7 low.',
    )
    const says = describeDue(facts)
    expect(says).toContain('Overdue: 4 trees: 1 high, 1 moderate and 2 low')
    expect(says).toContain('1 week with more due than the crews can visit')
  })
  it('draws any counts in any width', () => {
    const count = fc.nat(400)
    fc.assert(
      fc.property(
        fc.array(fc.tuple(count, count, count, count), { maxLength: 70 }),
        fc.integer({ min: 60, max: 2000 }),
        (rows, widthPx) => {
          const weeks = rows.map(([a, b, c, d], i) => week(i, a, b, c, d))
          expect(
            noBadNumbers(renderToStaticMarkup(<DueStrip {...facts} weeks={weeks} widthPx={widthPx} />)),
          ).toBe(true)
        },
      ),
      { numRuns: 40 },
    )
  })
})
