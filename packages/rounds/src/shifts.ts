import { addDays, type CivilDate, dayNumber, weekday } from '@underbough/model'
import type { Crew, RoundInput } from './types.ts'

/**
 * One crew's working day. Inside the planner a day runs on working seconds: the pause is cut out, so that every second
 * from `openSecond` to `closeSecond` can be used. `clockSecond` puts the pause back.
 */
export interface Shift {
  crew: number
  date: CivilDate
  day: number
  /** Place in the list of working days. */
  dayIndex: number
  weekday: number
  openSecond: number
  closeSecond: number
  /** Working second at which the pause comes; beyond the day when there is none. */
  pauseAtSecond: number
  pauseSeconds: number
}

/** Every working day of the horizon, in order: days on which at least one crew works. */
export function workingDays(input: RoundInput): CivilDate[] {
  const out: CivilDate[] = []
  const byCount = typeof input.days === 'number'
  // A crew that works one day a week reaches a given count of days within seven times as many dates.
  const dates =
    typeof input.days === 'number' ? input.days * 7 + 400 : dayNumber(input.days) - dayNumber(input.from) + 1
  for (let i = 0; i < dates; i++) {
    if (byCount && out.length === input.days) break
    const date = addDays(input.from, i)
    if (input.crews.some((crew) => hoursOn(crew, date) !== null)) out.push(date)
  }
  return out
}

function hoursOn(crew: Crew, date: CivilDate) {
  return crew.daysOff.includes(date) ? null : (crew.hours[weekday(date)] ?? null)
}

/** The crew-days that are still to be planned, by date, then in the order of the crews. */
export function openShifts(input: RoundInput, days: readonly CivilDate[]): Shift[] {
  const issued = new Set((input.frozen ?? []).map((sheet) => `${sheet.date} ${sheet.crewId}`))
  return days.flatMap((date, dayIndex) =>
    input.crews.flatMap((crew, index) => {
      const hours = hoursOn(crew, date)
      if (hours === null || issued.has(`${date} ${crew.id}`)) return []
      const pauseSeconds = Math.round((crew.break?.minutes ?? 0) * 60)
      const pauseAt = crew.break?.atMinute ?? (hours.fromMinute + hours.toMinute) / 2
      return [
        {
          crew: index,
          date,
          day: dayNumber(date),
          dayIndex,
          weekday: weekday(date),
          openSecond: Math.round(hours.fromMinute * 60),
          closeSecond: Math.round(hours.toMinute * 60) - pauseSeconds,
          pauseAtSecond: pauseSeconds > 0 ? Math.round(pauseAt * 60) : Number.POSITIVE_INFINITY,
          pauseSeconds,
        },
      ]
    }),
  )
}

/** The second of the day at which something at a working second begins. */
export function clockSecond(shift: Shift, working: number): number {
  return working < shift.pauseAtSecond ? working : working + shift.pauseSeconds
}

/** A span of the clock as spans of working seconds: one span, or none where it lies inside the pause. */
export function workingSpan(shift: Shift, from: number, to: number): [number, number] | null {
  const { pauseAtSecond, pauseSeconds } = shift
  const first = from < pauseAtSecond ? from : Math.max(from - pauseSeconds, pauseAtSecond)
  const last =
    to < pauseAtSecond ? to : to < pauseAtSecond + pauseSeconds ? pauseAtSecond - 1 : to - pauseSeconds
  return last >= first ? [first, last] : null
}
