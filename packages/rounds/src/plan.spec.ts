import type { Outcome } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { checkPlan } from './check.ts'
import { urgencyThenNearest } from './peer.ts'
import { planRounds, planRoundsInSteps } from './plan.ts'
import { costOf } from './recount.ts'
import { aCrew, anInput, aTown, aVisit } from './testing.ts'
import type { RoundInput, RoundPlan } from './types.ts'

const some = { seed: 1, iterations: 500 }

function planned(input: RoundInput, options = some): RoundPlan {
  return must(planRounds(input, options))
}

function must(outcome: Outcome<RoundPlan>): RoundPlan {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  return outcome.value
}

function codes(input: RoundInput, options = some): string[] {
  const outcome = planRounds(input, options)
  return outcome.ok ? [] : outcome.refusals.map(({ code, path }) => `${code} ${path}`)
}

const reasons = (plan: RoundPlan) => Object.fromEntries(plan.unplaced.map((row) => [row.visitId, row.code]))

describe('a small round', () => {
  it('visits three trees along a street in order, with times that follow from way and minutes', () => {
    // 300 m × 1.3 at 1.25 m/s is 312 s on foot; driving 60 + 65 s = 125 s is faster. Worked by hand.
    const visits = [300, 600, 900].map((east) => aVisit(`t${east}`, east, 0))
    const plan = planned(anInput({ visits }))
    expect(plan.daySheets).toHaveLength(1)
    const [sheet] = plan.daySheets
    const order = sheet.stops.map((stop) => stop.visitId)
    expect([order, order.toReversed()]).toContainEqual(['t300', 't600', 't900'])
    expect(plan.cost.travelSeconds).toBe(125 * 3 + 60 + 195)
    expect(sheet.startMinute).toBe(480)
    expect(sheet.stops[1].arriveMinute).toBeCloseTo(sheet.stops[0].leaveMinute + 125 / 60, 9)
    expect(plan.unplaced).toEqual([])
  })

  it('takes overdue high risk on the first day when two days are needed', () => {
    const visits = Array.from({ length: 6 }, (_, i) => aVisit(`t${i}`, 100 * i, 0, { serviceMinutes: 120 }))
    visits[4] = { ...visits[4], riskWeight: 30, dueOn: '2026-11-01' }
    const plan = planned(anInput({ visits, days: 2 }))
    expect(plan.daySheets[0].stops.map((stop) => stop.visitId)).toContain('t4')
    expect(plan.unplaced).toEqual([])
  })

  it('counts lateness from the day a tree was first overdue', () => {
    const visits = [aVisit('a', 100, 0, { dueOn: '2026-12-24', overdueSince: '2026-11-13' })]
    expect(planned(anInput({ visits })).cost.riskDays).toBe(10)
  })
})

describe('pause, pins, windows and day sheets already issued', () => {
  it('puts the pause between two visits and counts it', () => {
    const visits = Array.from({ length: 5 }, (_, i) => aVisit(`t${i}`, 50 * i, 0, { serviceMinutes: 80 }))
    const input = anInput({ visits, crews: [aCrew({ break: { minutes: 45 } })] })
    const [sheet] = planned(input).daySheets
    expect(sheet.break?.minutes).toBe(45)
    expect(sheet.endMinute - sheet.startMinute).toBeCloseTo(
      45 + sheet.serviceMinutes + sheet.travelMinutes,
      6,
    )
    expect(checkPlan(planned(input), input)).toEqual([])
  })

  it('keeps a tree to its pinned crew and date', () => {
    const crews = [aCrew(), aCrew({ id: 'south' })]
    const visits = [
      aVisit('a', 100, 0, { pinned: { crewId: 'south', date: '2026-11-25' } }),
      aVisit('b', 120, 0),
    ]
    const plan = planned(anInput({ visits, crews, days: 3 }))
    const sheet = plan.daySheets.find((one) => one.stops.some((stop) => stop.visitId === 'a'))
    expect([sheet?.crewId, sheet?.date]).toEqual(['south', '2026-11-25'])
  })

  it('waits for a window and leaves before it closes', () => {
    const visits = [aVisit('a', 100, 0, { windows: [{ weekdays: [0], fromMinute: 600, toMinute: 612 }] })]
    const [stop] = planned(anInput({ visits })).daySheets[0].stops
    expect(stop.startMinute).toBeGreaterThanOrEqual(600)
    expect(stop.leaveMinute).toBeLessThanOrEqual(612)
  })

  it('leaves an issued sheet as it was and plans neither its trees nor its day', () => {
    const visits = [aVisit('a', 100, 0), aVisit('b', 200, 0)]
    const [issued] = planned(anInput({ visits: [visits[0]] })).daySheets
    const input = anInput({ visits, days: 2, frozen: [issued] })
    const plan = planned(input)
    expect(
      plan.daySheets.map(({ date, frozen, stops }) => [
        date,
        frozen === true,
        stops.map((stop) => stop.visitId),
      ]),
    ).toEqual([
      ['2026-11-23', true, ['a']],
      ['2026-11-24', false, ['b']],
    ])
    expect(checkPlan(plan, input)).toEqual([])
  })
})

describe('what finds no place says why', () => {
  const fit = aVisit('fit', 100, 0)

  it.each([
    ['unplaced-no-skill', { level: 3 as const }],
    ['unplaced-no-skill', { equipment: ['borer'] }],
    ['unplaced-no-window', { windows: [{ weekdays: [6], fromMinute: 0, toMinute: 1440 }] }],
    ['unplaced-no-window', { windows: [{ fromMinute: 300, toMinute: 400 }] }],
    ['unplaced-no-window', { pinned: { date: '2027-01-01' } }],
    ['unplaced-too-long', { serviceMinutes: 500 }],
    ['unplaced-unreachable', { longitude: 60 }],
  ])('%s', (code, change) => {
    const input = anInput({
      visits: [fit, { ...aVisit('odd', 200, 0), ...change }],
      crews: [aCrew({ level: 2 })],
    })
    const plan = planned(input)
    expect(reasons(plan)).toEqual({ odd: code })
    expect(plan.unplaced[0].addedCost).toBeNull()
    expect(checkPlan(plan, input)).toEqual([])
  })

  it('names the price of a tree that a full day pushed out', () => {
    const visits = Array.from({ length: 5 }, (_, i) =>
      aVisit(`t${i}`, 100, 10 * i, { serviceMinutes: 110, riskWeight: i + 1, dueOn: '2026-11-01' }),
    )
    const plan = planned(anInput({ visits }))
    expect(reasons(plan)).toEqual({ t0: 'unplaced-full' })
    expect(plan.unplaced[0].addedCost).toBeGreaterThan(0)
  })
})

describe('input that cannot be planned', () => {
  const visit = aVisit('a', 100, 0)
  const hours = aCrew().hours

  it.each<[string, Partial<RoundInput>]>([
    ['no-crew crews', { crews: [] }],
    [
      'crew-hours crews.0.hours.0',
      { crews: [aCrew({ hours: [{ fromMinute: 900, toMinute: 480 }, ...hours.slice(1)] })] },
    ],
    ['out-of-range crews.0.break', { crews: [aCrew({ break: { minutes: 600 } })] }],
    ['malformed crews.0.start', { crews: [aCrew({ start: [Number.NaN, 0] })] }],
    ['malformed crews.0.daysOff.0', { crews: [aCrew({ daysOff: ['soon'] })] }],
    ['id-duplicate crews.1.id', { crews: [aCrew(), aCrew()] }],
    ['no-day days', { days: 0 }],
    ['no-day days', { days: '2026-11-22' }],
    ['no-day days', { from: '2026-11-28', days: '2026-11-29' }],
    ['malformed from', { from: '23.11.2026' }],
    ['id-duplicate visits.1.id', { visits: [visit, visit] }],
    ['malformed visits.0.longitude', { visits: [{ ...visit, longitude: 'ten' as unknown as number }] }],
    ['geometry-outside-world visits.0.longitude', { visits: [{ ...visit, latitude: 91 }] }],
    ['out-of-range visits.0.serviceMinutes', { visits: [{ ...visit, serviceMinutes: -1 }] }],
    ['out-of-range visits.0.riskWeight', { visits: [{ ...visit, riskWeight: Number.NaN }] }],
    ['malformed visits.0.dueOn', { visits: [{ ...visit, dueOn: '2026-02-30' }] }],
    ['unknown visits.0.pinned.crewId', { visits: [{ ...visit, pinned: { crewId: 'nobody' } }] }],
    [
      'out-of-range visits.0.windows.0',
      { visits: [{ ...visit, windows: [{ fromMinute: 600, toMinute: 500 }] }] },
    ],
    ['out-of-range weights.secondsPerRiskDay', { weights: { secondsPerRiskDay: -3 } }],
  ])('%s', (expected, change) => {
    expect(codes(anInput({ visits: [visit], ...change }))).toEqual([expected])
  })

  it('refuses half an iteration', () => {
    expect(codes(anInput(), { seed: 1, iterations: 0.5 })).toEqual(['out-of-range options.iterations'])
  })

  it('takes no trees at all as an empty plan', () => {
    expect(planned(anInput()).daySheets).toEqual([])
  })
})

describe('making a plan', () => {
  const even = aTown(200, 2, 5)
  const town = { ...even, crews: even.crews.map((crew) => ({ ...crew, end: [10.04, 0.01] as const })) }

  it('comes out the same for a seed and differs for another', () => {
    const first = planned(town, { seed: 7, iterations: 2000 })
    expect(planned(town, { seed: 7, iterations: 2000 })).toEqual(first)
    expect(planned(town, { seed: 8, iterations: 2000 })).not.toEqual({ ...first, seed: 8 })
  })

  it('gives a valid plan before the first step, and never a worse one later', () => {
    const totals: number[] = []
    for (const progress of planRoundsInSteps(town, { seed: 1, iterations: 3000 })) {
      if (totals.length === 0) expect(checkPlan(progress.plan(), town)).toEqual([])
      expect(progress.plan().cost.total).toBe(progress.total)
      totals.push(progress.total)
    }
    expect(totals.length).toBeGreaterThan(3)
    expect(totals).toEqual(totals.toSorted((a, b) => b - a))
  })

  it('never reports a worse plan, even while the search still wanders', () => {
    const totals: number[] = []
    for (const progress of planRoundsInSteps(town, { seed: 1, iterations: 1_000_000 })) {
      totals.push(progress.total)
      if (totals.length === 20) break
    }
    expect(totals).toEqual(totals.toSorted((a, b) => b - a))
  })

  it('keeps the best plan when a person stops it', () => {
    let asked = 0
    let told = Number.POSITIVE_INFINITY
    const outcome = planRounds(town, {
      seed: 1,
      iterations: 1_000_000,
      onProgress: ({ total }) => {
        told = total
      },
      cancelled: () => ++asked === 4,
    })
    const plan = must(outcome)
    expect(plan.iterations).toBeLessThan(5000)
    expect(plan.cost.total).toBe(told)
    expect(checkPlan(plan, town)).toEqual([])
  })

  it('agrees with the second count of its cost, and so does the plain peer', () => {
    for (const plan of [planned(town), must(urgencyThenNearest(town))]) {
      expect(plan.cost.total).toBeCloseTo(costOf(plan, town).total, 3)
      expect(checkPlan(plan, town)).toEqual([])
    }
  })

  it('the plain peer goes to an overdue extreme tree before a near one', () => {
    const visits = [
      aVisit('near', 100, 0),
      aVisit('urgent', 1500, 0, { riskWeight: 30, dueOn: '2026-11-01' }),
    ]
    const [sheet] = must(urgencyThenNearest(anInput({ visits }))).daySheets
    expect(sheet.stops.map((stop) => stop.visitId)).toEqual(['urgent', 'near'])
  })

  it('costs at least a fifth less than urgency and nearest neighbour: 1,000 trees, 3 crews, 10 days', () => {
    const large = aTown(1000, 3, 10)
    const plan = planned(large, { seed: 1, iterations: 60_000 })
    expect(checkPlan(plan, large)).toEqual([])
    expect(plan.cost.total).toBeLessThan(0.8 * must(urgencyThenNearest(large)).cost.total)
  })
})
