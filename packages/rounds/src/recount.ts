import { dayNumber, weekday } from '@underbough/model'
import type { RoundCost, RoundInput, RoundPlan, RoundVisit } from './types.ts'

// Shared by the checker alone; the planner counts with code of its own.

/** Ways between the keys of a travel model, asked for again. */
export interface Ways {
  secondsOf(from: string, to: string): number
  metresOf(from: string, to: string): number
}

/** The ways of an input. Throws where the travel model refuses. */
export function waysOf(input: RoundInput): Ways {
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
