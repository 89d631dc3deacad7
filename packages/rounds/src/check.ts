import { dayNumber, type Refusal, refusal, weekday } from '@underbough/model'
import { checkTimes, type Say, tolerance } from './check-times.ts'
import { costOf, waysOf } from './recount.ts'
import type { Crew, DaySheet, RoundInput, RoundPlan, RoundVisit } from './types.ts'

// A second pair of eyes: nothing here is shared with the planner but the records and the travel model.

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

function checkSums(plan: RoundPlan, input: RoundInput, say: Say): void {
  const sums = costOf(plan, input)
  for (const key of ['travelSeconds', 'riskDays', 'unserved', 'total'] as const)
    if (Math.abs(plan.cost[key] - sums[key]) > 1 + 1e-9 * Math.abs(sums[key]))
      say('out-of-range', `cost.${key}`, `The sum is ${sums[key]}.`, plan.cost[key])
}
