import { dayNumber, type Refusal, refusal, weekday } from '@underbough/model'
import type { Crew, DaySheet, RoundCost, RoundInput, RoundPlan, RoundVisit } from './types.ts'

// A second pair of eyes: nothing here is shared with the planner but the records and the travel model. Minutes are compared to within a second's rounding.
const tolerance = 0.02

type Say = (code: Refusal['code'], path: string, message: string, value?: unknown) => void

/**
 * What is wrong with a plan for its input; empty when nothing is. Checks hours, pauses, levels, equipment, windows, pins,
 * days off, trees visited twice or forgotten, day sheets already issued, and that all times, ways and costs add up.
 */
export function checkPlan(plan: RoundPlan, input: RoundInput): Refusal[] {
  const out: Refusal[] = []
  const say: Say = (code, path, message, value) => out.push(refusal(code, path, { message, value }))
  checkOnceEach(plan, input, say)
  checkIssued(plan, input, say)
  const ways = waysOf(input)
  const visits = new Map(input.visits.map((visit) => [visit.id, visit]))
  const crewDays = new Set<string>()
  for (const [i, sheet] of plan.daySheets.entries()) {
    const path = `daySheets.${i}`
    const crewDay = `${sheet.crewId} ${sheet.date}`
    if (crewDays.has(crewDay)) say('conflict', path, 'The crew has two day sheets for one day.')
    crewDays.add(crewDay)
    if (sheet.frozen) continue
    const crew = input.crews.find((one) => one.id === sheet.crewId)
    if (!crew) {
      say('unknown', `${path}.crewId`, 'There is no such crew.', sheet.crewId)
      continue
    }
    checkDay(sheet, crew, input, path, say)
    checkPermitted(sheet, crew, visits, path, say)
    checkTimes(sheet, visits, ways, path, say)
  }
  checkSums(plan, input, say)
  return out
}

function checkOnceEach(plan: RoundPlan, input: RoundInput, say: Say): void {
  const count = new Map<string, number>()
  for (const sheet of plan.daySheets)
    for (const stop of sheet.stops) count.set(stop.visitId, (count.get(stop.visitId) ?? 0) + 1)
  for (const row of plan.unplaced) count.set(row.visitId, (count.get(row.visitId) ?? 0) + 1)
  input.visits.forEach(({ id }, i) => {
    const times = count.get(id) ?? 0
    if (times === 0)
      say('required', `visits.${i}`, 'The tree is neither on a day sheet nor among the unplaced.', id)
    if (times > 1) say('id-duplicate', `visits.${i}`, 'The tree appears more than once.', id)
    count.delete(id)
  })
  const issued = new Set((input.frozen ?? []).flatMap((sheet) => sheet.stops.map((stop) => stop.visitId)))
  for (const id of count.keys())
    if (!issued.has(id)) say('unknown', 'daySheets', 'The plan names a tree that was not asked for.', id)
}

function checkIssued(plan: RoundPlan, input: RoundInput, say: Say): void {
  for (const sheet of input.frozen ?? []) {
    const kept = plan.daySheets.find(
      (one) => one.frozen && one.crewId === sheet.crewId && one.date === sheet.date,
    )
    const same = kept && JSON.stringify(kept.stops) === JSON.stringify(sheet.stops)
    if (!same)
      say('conflict', 'frozen', 'A day sheet already issued was changed.', `${sheet.crewId} ${sheet.date}`)
  }
}

function checkDay(sheet: DaySheet, crew: Crew, input: RoundInput, path: string, say: Say): void {
  const hours = crew.daysOff.includes(sheet.date) ? null : crew.hours[weekday(sheet.date)]
  if (!hours) {
    say('no-day', `${path}.date`, 'The crew does not work that day.', sheet.date)
    return
  }
  if (sheet.date < input.from) say('no-day', `${path}.date`, 'The day lies before the horizon.', sheet.date)
  if (typeof input.days === 'string' && sheet.date > input.days)
    say('no-day', `${path}.date`, 'The day lies after the horizon.', sheet.date)
  if (typeof input.days === 'number' && workedBefore(input, sheet.date) >= input.days)
    say('no-day', `${path}.date`, 'The day lies after the horizon.', sheet.date)
  if (sheet.startMinute < hours.fromMinute - tolerance)
    say('crew-hours', `${path}.startMinute`, 'The day begins before the hours.', sheet.startMinute)
  if (sheet.endMinute > hours.toMinute + tolerance)
    say('crew-hours', `${path}.endMinute`, 'The day ends after the hours.', sheet.endMinute)
  if (!crew.break || crew.break.minutes === 0) {
    if (sheet.break) say('crew-hours', `${path}.break`, 'The crew has no pause.')
    return
  }
  const due = crew.break.atMinute ?? (hours.fromMinute + hours.toMinute) / 2
  if (!sheet.break) {
    if (sheet.endMinute > due + tolerance) say('crew-hours', `${path}.break`, 'The pause is missing.')
  } else if (Math.abs(sheet.break.minutes - crew.break.minutes) > tolerance)
    say('crew-hours', `${path}.break`, 'The pause has another length.', sheet.break.minutes)
}

/** Days before `date`, from the first of the horizon, on which some crew works. */
function workedBefore(input: RoundInput, date: string): number {
  let worked = 0
  for (let day = dayNumber(input.from); day < dayNumber(date); day++) {
    const name = new Date(day * 86_400_000).toISOString().slice(0, 10)
    if (input.crews.some((crew) => crew.hours[weekday(name)] && !crew.daysOff.includes(name))) worked++
  }
  return worked
}

function checkPermitted(
  sheet: DaySheet,
  crew: Crew,
  visits: ReadonlyMap<string, RoundVisit>,
  path: string,
  say: Say,
): void {
  sheet.stops.forEach((stop, i) => {
    const visit = visits.get(stop.visitId)
    if (!visit) return
    const at = `${path}.stops.${i}`
    if (stop.order !== i + 1) say('out-of-range', `${at}.order`, 'The order is broken.', stop.order)
    if (crew.level < visit.level)
      say('unplaced-no-skill', at, "The visit is above the crew's level.", visit.level)
    for (const item of visit.equipment)
      if (!crew.equipment.includes(item)) say('unplaced-no-skill', at, 'The crew lacks equipment.', item)
    if (visit.pinned?.crewId !== undefined && visit.pinned.crewId !== crew.id)
      say('conflict', at, 'The tree is pinned to another crew.', crew.id)
    if (visit.pinned?.date !== undefined && visit.pinned.date !== sheet.date)
      say('conflict', at, 'The tree is pinned to another day.', sheet.date)
    if (
      visit.windows &&
      visit.windows.length > 0 &&
      !insideWindow(visit, stop.startMinute, stop.leaveMinute, weekday(sheet.date))
    )
      say('unplaced-no-window', at, 'The visit lies outside its windows.', stop.startMinute)
  })
}

/** True when every second of the visit is covered by windows of that weekday. */
function insideWindow(visit: RoundVisit, start: number, leave: number, day: number): boolean {
  const open = (visit.windows ?? []).filter(
    (window) => !window.weekdays?.length || window.weekdays.includes(day),
  )
  let covered = start
  for (;;) {
    const reach = open
      .filter((window) => window.fromMinute <= covered + tolerance)
      .map((window) => window.toMinute)
    const furthest = Math.max(Number.NEGATIVE_INFINITY, ...reach)
    if (furthest < covered - tolerance) return false
    if (furthest >= leave - tolerance) return true
    if (furthest <= covered) return false
    covered = furthest
  }
}

interface Ways {
  secondsOf(from: string, to: string): number
  metresOf(from: string, to: string): number
}

function waysOf(input: RoundInput): Ways {
  const points = [
    ...input.crews.flatMap((crew) => [
      { key: `start:${crew.id}`, longitude: crew.start[0], latitude: crew.start[1] },
      { key: `end:${crew.id}`, longitude: crew.end[0], latitude: crew.end[1] },
    ]),
    ...input.visits.map((visit) => ({
      key: `visit:${visit.id}`,
      longitude: visit.longitude,
      latitude: visit.latitude,
    })),
  ]
  const answer = input.travel.matrix(points)
  if (!answer.ok) throw new Error(answer.refusals.map((one) => one.message).join(' '))
  const { seconds, metres } = answer.value
  const at = new Map(points.map((point, i) => [point.key, i]))
  return {
    secondsOf: (from, to) => seconds[at.get(from)! * points.length + at.get(to)!],
    metresOf: (from, to) => metres(at.get(from)!, at.get(to)!),
  }
}

function checkTimes(
  sheet: DaySheet,
  visits: ReadonlyMap<string, RoundVisit>,
  ways: Ways,
  path: string,
  say: Say,
): void {
  const differ = (a: number, b: number) => Math.abs(a - b) > tolerance
  const pause = sheet.break
  let from = `start:${sheet.crewId}`
  let clock = sheet.startMinute
  let travel = 0
  let metres = 0
  let service = 0
  // The pause is spent where it lies: after `clock` and before the moment given.
  const pausedBetween = (until: number) =>
    pause && pause.startMinute >= clock - tolerance && pause.startMinute < until - tolerance
      ? pause.minutes
      : 0
  sheet.stops.forEach((stop, i) => {
    const at = `${path}.stops.${i}`
    const visit = visits.get(stop.visitId)
    if (!visit) return
    const way = ways.secondsOf(from, `visit:${stop.visitId}`) / 60
    if (differ(stop.travelMinutes, way))
      say('out-of-range', `${at}.travelMinutes`, 'The way takes another time.', stop.travelMinutes)
    if (Math.abs(stop.travelM - ways.metresOf(from, `visit:${stop.visitId}`)) > 2)
      say('out-of-range', `${at}.travelM`, 'The way has another length.', stop.travelM)
    if (differ(stop.arriveMinute, clock + way + pausedBetween(stop.arriveMinute)))
      say(
        'out-of-range',
        `${at}.arriveMinute`,
        'Arrival is not the last leaving and the way.',
        stop.arriveMinute,
      )
    clock = stop.arriveMinute
    if (stop.startMinute < clock + pausedBetween(stop.startMinute) - tolerance)
      say('out-of-range', `${at}.startMinute`, 'The visit begins before arrival.', stop.startMinute)
    if (differ(stop.leaveMinute, stop.startMinute + visit.serviceMinutes))
      say('out-of-range', `${at}.leaveMinute`, 'The visit takes another time.', stop.leaveMinute)
    if (
      pause &&
      pause.startMinute < stop.leaveMinute - tolerance &&
      pause.startMinute + pause.minutes > stop.startMinute + tolerance
    )
      say('crew-hours', `${at}.startMinute`, 'The visit lies in the pause.', stop.startMinute)
    clock = stop.leaveMinute
    from = `visit:${stop.visitId}`
    travel += way
    metres += stop.travelM
    service += visit.serviceMinutes
  })
  const home = ways.secondsOf(from, `end:${sheet.crewId}`) / 60
  metres += ways.metresOf(from, `end:${sheet.crewId}`)
  if (differ(sheet.endMinute, clock + home + pausedBetween(sheet.endMinute)))
    say('out-of-range', `${path}.endMinute`, 'The end is not the last leaving and the way.', sheet.endMinute)
  if (differ(sheet.travelMinutes, travel + home))
    say('out-of-range', `${path}.travelMinutes`, 'The ways do not add up.', sheet.travelMinutes)
  if (Math.abs(sheet.travelM - metres) > 2 * (sheet.stops.length + 1))
    say('out-of-range', `${path}.travelM`, 'The metres do not add up.', sheet.travelM)
  if (Math.abs(sheet.serviceMinutes - service) > tolerance * (1 + sheet.stops.length))
    say('out-of-range', `${path}.serviceMinutes`, 'The minutes at trees do not add up.', sheet.serviceMinutes)
}

function checkSums(plan: RoundPlan, input: RoundInput, say: Say): void {
  const sums = costOf(plan, input)
  for (const key of ['travelSeconds', 'riskDays', 'unserved', 'total'] as const)
    if (Math.abs(plan.cost[key] - sums[key]) > 1 + 1e-9 * Math.abs(sums[key]))
      say('out-of-range', `cost.${key}`, `The sum is ${sums[key]}.`, plan.cost[key])
}

/** What a plan costs, worked out again from its day sheets and the input alone. */
export function costOf(plan: RoundPlan, input: RoundInput): RoundCost {
  const { secondsPerRiskDay } = plan.weights
  const ways = waysOf(input)
  const visits = new Map(input.visits.map((visit) => [visit.id, visit]))
  let travelSeconds = 0
  let riskDays = 0
  for (const sheet of plan.daySheets) {
    if (sheet.frozen) continue
    const keys = [
      `start:${sheet.crewId}`,
      ...sheet.stops.map((stop) => `visit:${stop.visitId}`),
      `end:${sheet.crewId}`,
    ]
    for (let i = 1; i < keys.length; i++) travelSeconds += ways.secondsOf(keys[i - 1], keys[i])
    for (const stop of sheet.stops) riskDays += lateBy(visits.get(stop.visitId), dayNumber(sheet.date))
  }
  const lastDay = lastWorkingDay(input)
  let unserved = 0
  for (const row of plan.unplaced) {
    const visit = visits.get(row.visitId)
    if (visit)
      unserved +=
        visit.priceUnserved !== undefined
          ? Math.round(visit.priceUnserved)
          : priceOf(visit, plan, input, ways, lastDay)
  }
  return { travelSeconds, riskDays, unserved, total: travelSeconds + secondsPerRiskDay * riskDays + unserved }
}

function lateBy(visit: RoundVisit | undefined, day: number): number {
  if (!visit) return 0
  const since = [visit.dueOn, visit.overdueSince].flatMap((date) =>
    date === undefined ? [] : [dayNumber(date)],
  )
  return visit.riskWeight * Math.max(0, day - Math.min(...since))
}

function priceOf(
  visit: RoundVisit,
  { weights }: RoundPlan,
  input: RoundInput,
  ways: Ways,
  lastDay: number,
): number {
  const alone = input.crews
    .filter(
      (crew) => crew.level >= visit.level && visit.equipment.every((item) => crew.equipment.includes(item)),
    )
    .filter((crew) => visit.pinned?.crewId === undefined || visit.pinned.crewId === crew.id)
    .map(
      (crew) =>
        ways.secondsOf(`start:${crew.id}`, `visit:${visit.id}`) +
        ways.secondsOf(`visit:${visit.id}`, `end:${crew.id}`),
    )
    .filter((way) => way < 100_000_000)
  const waiting = weights.secondsPerRiskDay * lateBy(visit, lastDay + weights.carriedOverDays)
  return Math.round(weights.unservedBaseSeconds + Math.max(0, ...alone) + Math.round(waiting))
}

function lastWorkingDay(input: RoundInput): number {
  if (typeof input.days === 'number') {
    let day = dayNumber(input.from)
    for (let worked = 0; ; day++) {
      const name = new Date(day * 86_400_000).toISOString().slice(0, 10)
      if (input.crews.some((crew) => crew.hours[weekday(name)] && !crew.daysOff.includes(name))) worked++
      if (worked === input.days) return day
    }
  }
  for (let day = dayNumber(input.days); ; day--) {
    const name = new Date(day * 86_400_000).toISOString().slice(0, 10)
    if (input.crews.some((crew) => crew.hours[weekday(name)] && !crew.daysOff.includes(name))) return day
  }
}
