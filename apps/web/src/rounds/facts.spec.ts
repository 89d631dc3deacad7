import { describe, expect, it } from 'vitest'
import type { Crew, PlanHead, PlanWhole } from '../api/index.ts'
import { dayFacts, daysOf, leftOver, saySaving } from './facts.ts'

const crew = {
  id: 'a',
  letter: 'A',
  daysOff: ['2026-12-01'],
  hours: [
    null,
    { fromMinute: 480, toMinute: 960 },
    { fromMinute: 480, toMinute: 960 },
    null,
    null,
    null,
    null,
  ],
} as unknown as Crew
const sheet = (crewId: string, date: string) =>
  ({ crewId, date, stops: [] }) as unknown as PlanWhole['daySheets'][number]
const left = (id: string, code: string, risk: string | null) =>
  ({
    code,
    message: `because ${code}`,
    addedCost: null,
    tree: { id, risk, overdueDays: 0 },
  }) as unknown as PlanWhole['unplaced'][number]

describe('a plan on the board', () => {
  it('stands by day, then by crew', () => {
    const days = daysOf([sheet('b', '2026-12-02'), sheet('a', '2026-12-01'), sheet('a', '2026-12-02')])
    expect(days.map((d) => [d.date, [...d.byCrew.keys()].sort()])).toEqual([
      ['2026-12-01', ['a']],
      ['2026-12-02', ['a', 'b']],
    ])
  })

  it('says why a day has no line', () => {
    expect(dayFacts(crew, '2026-12-01', undefined).absent?.why).toBe('Day off')
    expect(dayFacts(crew, '2026-12-02', undefined).absent?.why).toBe('No stops')
    expect(dayFacts(crew, '2026-11-30', undefined).absent?.why).toBe('No work')
  })

  it('names the worst left over one by one and the rest together', () => {
    const rows = [
      left('1', 'unplaced-full', 'low'),
      left('2', 'unplaced-full', 'extreme'),
      left('3', 'unplaced-full', null),
    ]
    expect(leftOver(rows, 1).map((g) => g.rows.map((r) => r.tree.id))).toEqual([['2'], ['1', '3']])
  })

  it('says what it saves only when both costs are known', () => {
    const plan = {
      savedShare: 0.31,
      cost: { travelSeconds: 36_000 },
      peerCost: { travelSeconds: 54_000 },
    } as unknown as PlanHead
    expect(saySaving(plan, 146, 14)).toBe(
      '146 trees on the rounds, 14 left over. Against going by urgency to the nearest next tree it costs 31 % less, with 5 hours less on the way.',
    )
    expect(saySaving({ ...plan, savedShare: null }, 1, 0)).toBe('1 tree on the rounds, 0 left over.')
  })
})
