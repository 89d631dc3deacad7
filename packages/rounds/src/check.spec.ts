import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { checkPlan } from './check.ts'
import { urgencyThenNearest } from './peer.ts'
import { planRounds } from './plan.ts'
import { aCrew, anInput, aTown, aVisit } from './testing.ts'
import type { Crew, DaySheet, RoundInput, RoundPlan, RoundVisit } from './types.ts'

function planned(input: RoundInput, iterations = 300): RoundPlan {
  const outcome = planRounds(input, { seed: 1, iterations })
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  return outcome.value
}

describe('the checker finds each kind of fault in a plan that was sound', () => {
  const windows = [{ fromMinute: 540, toMinute: 600 }]
  const visits = [
    aVisit('a', 300, 0, { level: 2 }),
    aVisit('b', 600, 0, { equipment: ['borer'] }),
    aVisit('c', 900, 0, { windows }),
    aVisit('d', 1200, 0, { pinned: { crewId: 'north', date: '2026-11-23' } }),
    aVisit('far', 1200, 0, { level: 3, equipment: ['rope'] }),
    ...['e', 'f', 'g'].map((id, i) => aVisit(id, 100 * i, 100, { serviceMinutes: 60 })),
  ]
  const crews = [aCrew({ equipment: ['borer'], break: { minutes: 30, atMinute: 600 } })]
  const input = anInput({ visits, crews })
  let sound: RoundPlan

  beforeAll(() => {
    sound = planned(input)
    expect(checkPlan(sound, input)).toEqual([])
  })

  const less = <K extends string>(row: Record<K, number>, key: K, by: number) => {
    row[key] = (row[key] - by) as Record<K, number>[K]
  }
  const stopOf = (plan: RoundPlan, id: string) => plan.daySheets[0].stops.find((stop) => stop.visitId === id)!

  it.each<[string, string, (plan: RoundPlan) => unknown]>([
    [
      'id-duplicate',
      'a tree twice',
      (plan) => plan.daySheets[0].stops.push({ ...plan.daySheets[0].stops[0] }),
    ],
    ['required', 'a tree forgotten', (plan) => plan.unplaced.pop()],
    [
      'unknown',
      'a tree nobody asked for',
      (plan) => plan.unplaced.push({ ...plan.unplaced[0], visitId: 'zz' }),
    ],
    ['no-day', 'a Sunday', (plan) => Object.assign(plan.daySheets[0], { date: '2026-11-29' })],
    ['no-day', 'a day past the horizon', (plan) => Object.assign(plan.daySheets[0], { date: '2026-11-24' })],
    ['crew-hours', 'an early start', (plan) => Object.assign(plan.daySheets[0], { startMinute: 470 })],
    ['crew-hours', 'a late end', (plan) => Object.assign(plan.daySheets[0], { endMinute: 970 })],
    ['crew-hours', 'no pause', (plan) => Object.assign(plan.daySheets[0], { break: undefined })],
    [
      'crew-hours',
      'a pause during a visit',
      (plan) =>
        Object.assign(plan.daySheets[0].break!, { startMinute: plan.daySheets[0].stops[0].startMinute + 1 }),
    ],
    [
      'unplaced-no-window',
      'a visit outside its window',
      (plan) => Object.assign(stopOf(plan, 'c'), { startMinute: 400 }),
    ],
    ['out-of-range', 'an arrival too early', (plan) => less(plan.daySheets[0].stops[1], 'arriveMinute', 2)],
    ['out-of-range', 'a visit cut short', (plan) => less(plan.daySheets[0].stops[1], 'leaveMinute', 2)],
    ['out-of-range', 'a way too short', (plan) => less(plan.daySheets[0].stops[1], 'travelMinutes', 1)],
    ['out-of-range', 'metres that are wrong', (plan) => less(plan.daySheets[0], 'travelM', -100)],
    [
      'out-of-range',
      'minutes at trees that do not add up',
      (plan) => less(plan.daySheets[0], 'serviceMinutes', -5),
    ],
    ['out-of-range', 'a broken order', (plan) => less(plan.daySheets[0].stops[1], 'order', 1)],
    ['out-of-range', 'a cost that is too low', (plan) => less(plan.cost, 'total', 50)],
  ])('%s: %s', (code, _, spoil) => {
    const plan = structuredClone(sound)
    spoil(plan)
    expect(checkPlan(plan, input).map((one) => one.code)).toContain(code)
  })

  it.each<[string, Partial<Crew>, Partial<RoundVisit>]>([
    ['unplaced-no-skill', { level: 1 }, {}],
    ['unplaced-no-skill', { equipment: [] }, {}],
    ['no-day', { daysOff: ['2026-11-23'] }, {}],
    ['conflict', {}, { pinned: { crewId: 'south' } }],
    ['conflict', {}, { pinned: { date: '2026-11-24' } }],
  ])('%s when the input was another', (code, crew, change) => {
    const other = {
      ...input,
      crews: [{ ...crews[0], ...crew }],
      visits: visits.map((visit) => (visit.id === 'd' ? { ...visit, ...change } : visit)),
      days: 2,
    }
    expect(checkPlan(sound, other).map((one) => one.code)).toContain(code)
  })

  it('conflict: an issued sheet was changed', () => {
    const frozen: DaySheet[] = [{ ...sound.daySheets[0], stops: sound.daySheets[0].stops.slice(1) }]
    expect(checkPlan(sound, { ...input, frozen }).map((one) => one.code)).toContain('conflict')
  })
})

const minute = (least: number, most: number) => fc.integer({ min: least, max: most })
const hours = fc
  .tuple(minute(360, 600), minute(120, 600))
  .map(([fromMinute, length]) => ({ fromMinute, toMinute: fromMinute + length }))
const window = fc.record({
  fromMinute: minute(300, 1000),
  length: minute(1, 300),
  weekdays: fc.option(fc.uniqueArray(minute(0, 6), { maxLength: 4 }), { nil: undefined }),
})
const equipment = fc.uniqueArray(fc.constantFrom('borer', 'rope'), { maxLength: 2 })
const level = fc.constantFrom(1, 2, 3)
const metres = fc.integer({ min: -6000, max: 6000 })
const date = minute(1, 30).map((day) => `2026-11-${String(day).padStart(2, '0')}`)

const visitArbitrary = fc.record({
  east: metres,
  north: metres,
  serviceMinutes: fc.oneof(minute(0, 90), fc.double({ min: 0, max: 90, noNaN: true })),
  level,
  equipment,
  riskWeight: fc.double({ min: 0, max: 60, noNaN: true }),
  dueOn: date,
  overdueSince: fc.option(date, { nil: undefined, freq: 4 }),
  windows: fc.option(
    fc.array(
      window.map(({ length, ...rest }) => ({ ...rest, toMinute: rest.fromMinute + length })),
      { maxLength: 3 },
    ),
    { nil: undefined },
  ),
  pinned: fc.option(
    fc.record({
      crewId: fc.constantFrom('crew-0', undefined),
      date: fc.constantFrom('2026-11-24', undefined),
    }),
    { nil: undefined, freq: 5 },
  ),
  priceUnserved: fc.option(minute(0, 50_000), { nil: undefined, freq: 4 }),
})
const crewArbitrary = fc.record({
  level,
  equipment,
  hours: fc.array(fc.option(hours, { nil: null, freq: 5 }), { minLength: 7, maxLength: 7 }),
  pauseShare: fc.option(fc.double({ min: 0, max: 0.5, noNaN: true }), { nil: undefined }),
  east: metres,
  daysOff: fc.uniqueArray(fc.constantFrom('2026-11-24', '2026-11-26'), { maxLength: 1 }),
})

const inputArbitrary = fc
  .record({
    visits: fc.array(visitArbitrary, { maxLength: 25 }),
    crews: fc.array(crewArbitrary, { minLength: 1, maxLength: 3 }),
    days: minute(1, 6),
  })
  .map(({ visits, crews, days }) =>
    anInput({
      days,
      visits: visits.map(({ east, north, ...rest }, i) => aVisit(`t${i}`, east, north, rest)),
      crews: crews.map(({ east, pauseShare, ...rest }, i) => {
        const { longitude, latitude } = aVisit('', east, 0)
        const shortest = Math.min(
          ...rest.hours.flatMap((day) => (day ? [day.toMinute - day.fromMinute] : [])),
        )
        const pause =
          pauseShare !== undefined && Number.isFinite(shortest)
            ? { break: { minutes: Math.floor(shortest * pauseShare) } }
            : {}
        return aCrew({ id: `crew-${i}`, end: [longitude, latitude], ...rest, ...pause })
      }),
    }),
  )

describe('any input', () => {
  it('gives a plan in which the checker finds nothing, or a refusal with a code', () => {
    let planned = 0
    fc.assert(
      fc.property(inputArbitrary, fc.integer(), (input, seed) => {
        for (const outcome of [planRounds(input, { seed, iterations: 200 }), urgencyThenNearest(input)]) {
          if (outcome.ok) {
            planned++
            expect(checkPlan(outcome.value, input)).toEqual([])
          } else expect(outcome.refusals.map((one) => one.code)).toEqual(['no-day'])
        }
      }),
      { numRuns: 300, seed: 20261123 },
    )
    expect(planned).toBeGreaterThan(400)
  })

  it('keeps what it issued when the rest is planned again', () => {
    const town = aTown(120, 2, 4)
    const frozen = planned(town).daySheets.slice(0, 3)
    const again = { ...town, frozen }
    const plan = planned(again)
    expect(plan.daySheets.filter((sheet) => sheet.frozen).map((sheet) => sheet.stops)).toEqual(
      frozen.map((sheet) => sheet.stops),
    )
    expect(checkPlan(plan, again)).toEqual([])
  })
})
