import { describe, expect, it } from 'vitest'
import { accruedRiskDays } from './accrued.ts'
import { planRounds } from './plan.ts'
import { costOf } from './recount.ts'
import { straightLineTravel } from './travel.ts'
import type { Crew, RoundVisit } from './types.ts'

const visit = (
  id: string,
  dueOn: string,
  riskWeight: number,
  more: Partial<RoundVisit> = {},
): RoundVisit => ({
  id,
  longitude: 0,
  latitude: 0,
  serviceMinutes: 10,
  level: 2,
  equipment: [],
  riskWeight,
  dueOn,
  ...more,
})
const day = { fromMinute: 480, toMinute: 960 }
const crew: Crew = {
  id: 'a',
  name: 'A',
  level: 2,
  equipment: [],
  members: [],
  start: [0, 0],
  end: [0, 0],
  hours: [day, day, day, day, day, day, day],
  daysOff: [],
}

describe('accrued risk-days', () => {
  it('counts what had run up before the first day, from the earlier of two dates', () => {
    const visits = [
      visit('late', '2026-11-01', 10),
      visit('later', '2026-12-20', 3),
      visit('renewed', '2026-12-20', 2, { overdueSince: '2026-11-21' }),
    ]
    // 10 × 30 days from 1 Nov to 1 Dec, nothing for what is not late yet, 2 × 10 days from 21 Nov.
    expect(accruedRiskDays({ visits, from: '2026-12-01' })).toBe(10 * 30 + 2 * 10)
  })

  it('is the least that any plan can carry: a plan that sees everything on the first day carries just that', () => {
    const input = {
      visits: [visit('late', '2026-11-01', 10), visit('due', '2026-12-20', 3)],
      crews: [crew],
      from: '2026-12-01',
      days: 1,
      travel: straightLineTravel(),
    }
    const plan = planRounds(input, { seed: 1, iterations: 50 })
    expect(plan.ok && costOf(plan.value, input).riskDays).toBe(accruedRiskDays(input))
  })
})
