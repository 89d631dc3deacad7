import { isCivilDate, type Refusal, type RefusalCode, refusal } from '@underbough/model'
import type { Crew, DayHours, RoundInput, RoundOptions, RoundVisit } from './types.ts'

/** A plan holds at most so many trees: the matrix of ways grows with the square. Split a larger one by district or week. */
export const mostVisits = 5_000
/** A plan looks ahead at most so many working days. */
export const mostWorkingDays = 366

const minutesOfDay = '0 to 1440 min'

/** Every reason why the input cannot be planned; empty when it can. Paths lead into the input, as in `visits.3.dueOn`. */
export function inputRefusals(input: RoundInput, options: RoundOptions): Refusal[] {
  const out: Refusal[] = []
  if (input.crews.length === 0) out.push(refusal('no-crew', 'crews'))
  if (input.visits.length > mostVisits)
    out.push(
      refusal('too-large', 'visits', {
        value: input.visits.length,
        limit: `at most ${mostVisits} trees; split by district or week`,
      }),
    )
  out.push(...horizonRefusals(input), ...optionRefusals(options), ...weightRefusals(input))
  out.push(...repeated('visits', input.visits), ...repeated('crews', input.crews))
  input.crews.forEach((crew, i) => {
    out.push(...crewRefusals(crew, `crews.${i}`))
  })
  const crewIds = new Set(input.crews.map((crew) => crew.id))
  input.visits.forEach((visit, i) => {
    out.push(...visitRefusals(visit, `visits.${i}`, crewIds))
  })
  input.frozen?.forEach((sheet, i) => {
    if (!isCivilDate(sheet.date)) out.push(refusal('malformed', `frozen.${i}.date`, { value: sheet.date }))
  })
  return out
}

function horizonRefusals({ from, days }: RoundInput): Refusal[] {
  const out: Refusal[] = []
  if (!isCivilDate(from)) out.push(refusal('malformed', 'from', { value: from }))
  if (typeof days === 'string') {
    if (!isCivilDate(days)) out.push(refusal('malformed', 'days', { value: days }))
    else if (days < from) out.push(refusal('no-day', 'days', { value: days, limit: `not before ${from}` }))
  } else if (!Number.isInteger(days)) out.push(refusal('malformed', 'days', { value: days }))
  else if (days < 1) out.push(refusal('no-day', 'days', { value: days, limit: 'at least 1' }))
  else if (days > mostWorkingDays)
    out.push(refusal('too-large', 'days', { value: days, limit: `at most ${mostWorkingDays} days` }))
  return out
}

function optionRefusals({ seed, iterations }: RoundOptions): Refusal[] {
  const out: Refusal[] = []
  if (!Number.isInteger(seed)) out.push(refusal('malformed', 'options.seed', { value: seed }))
  if (!Number.isInteger(iterations) || iterations < 0)
    out.push(
      refusal('out-of-range', 'options.iterations', { value: iterations, limit: 'a whole number from 0' }),
    )
  return out
}

function weightRefusals({ weights }: RoundInput): Refusal[] {
  return Object.entries(weights ?? {})
    .filter(([, value]) => !within(value, 0, 1e6))
    .map(([key, value]) => refusal('out-of-range', `weights.${key}`, { value, limit: '0 to 1,000,000' }))
}

function repeated(path: string, rows: readonly { id: string }[]): Refusal[] {
  const seen = new Set<string>()
  const out: Refusal[] = []
  rows.forEach(({ id }, i) => {
    if (typeof id !== 'string' || id === '') out.push(refusal('id-missing', `${path}.${i}.id`, { value: id }))
    else if (seen.has(id)) out.push(refusal('id-duplicate', `${path}.${i}.id`, { value: id }))
    seen.add(id)
  })
  return out
}

function crewRefusals(crew: Crew, path: string): Refusal[] {
  const out: Refusal[] = []
  const say = (code: RefusalCode, at: string, value: unknown, limit?: string) =>
    out.push(refusal(code, `${path}.${at}`, limit === undefined ? { value } : { value, limit }))
  for (const end of ['start', 'end'] as const) {
    const code = placeCode(crew[end]?.[0], crew[end]?.[1])
    if (code) say(code, end, crew[end])
  }
  if (![1, 2, 3].includes(crew.level)) say('out-of-range', 'level', crew.level, '1, 2 or 3')
  if (crew.hours.length !== 7) say('malformed', 'hours', crew.hours.length, 'seven days, Monday first')
  crew.daysOff.forEach((day, i) => {
    if (!isCivilDate(day)) say('malformed', `daysOff.${i}`, day)
  })
  for (const [day, hours] of crew.hours.entries()) {
    if (hours === null) continue
    const code = hoursCode(hours)
    if (code)
      say(code, `hours.${day}`, hours, code === 'crew-hours' ? 'the day ends after it begins' : minutesOfDay)
  }
  const { break: pause } = crew
  if (pause && crew.hours.some((hours) => hours !== null && !hoursCode(hours) && !breakFits(hours, pause)))
    say('out-of-range', 'break', pause, 'a pause that lies within every working day')
  return out
}

function breakFits(hours: DayHours, pause: NonNullable<Crew['break']>): boolean {
  if (!within(pause.minutes, 0, 1440)) return false
  const at = pause.atMinute ?? (hours.fromMinute + hours.toMinute) / 2
  return within(at, hours.fromMinute, hours.toMinute) && at + pause.minutes <= hours.toMinute
}

function visitRefusals(visit: RoundVisit, path: string, crewIds: ReadonlySet<string>): Refusal[] {
  const out: Refusal[] = []
  const say = (code: RefusalCode, at: string, value: unknown, limit?: string) =>
    out.push(refusal(code, `${path}.${at}`, limit === undefined ? { value } : { value, limit }))
  const place = placeCode(visit.longitude, visit.latitude)
  if (place) say(place, 'longitude', [visit.longitude, visit.latitude])
  if (!within(visit.serviceMinutes, 0, 1440))
    say('out-of-range', 'serviceMinutes', visit.serviceMinutes, minutesOfDay)
  if (!within(visit.riskWeight, 0, 1e4)) say('out-of-range', 'riskWeight', visit.riskWeight, '0 to 10,000')
  if (![1, 2, 3].includes(visit.level)) say('out-of-range', 'level', visit.level, '1, 2 or 3')
  if (!isCivilDate(visit.dueOn)) say('malformed', 'dueOn', visit.dueOn)
  if (visit.overdueSince !== undefined && !isCivilDate(visit.overdueSince))
    say('malformed', 'overdueSince', visit.overdueSince)
  if (visit.priceUnserved !== undefined && !within(visit.priceUnserved, 0, 1e8))
    say('out-of-range', 'priceUnserved', visit.priceUnserved, '0 to 100,000,000 s')
  visit.windows?.forEach((window, i) => {
    if (hoursCode(window))
      say('out-of-range', `windows.${i}`, window, `${minutesOfDay}, the end after the beginning`)
    if (window.weekdays?.some((day) => !Number.isInteger(day) || day < 0 || day > 6))
      say('out-of-range', `windows.${i}.weekdays`, window.weekdays, '0 Monday to 6 Sunday')
  })
  if (visit.pinned?.crewId !== undefined && !crewIds.has(visit.pinned.crewId))
    say('unknown', 'pinned.crewId', visit.pinned.crewId)
  if (visit.pinned?.date !== undefined && !isCivilDate(visit.pinned.date))
    say('malformed', 'pinned.date', visit.pinned.date)
  return out
}

function hoursCode({ fromMinute, toMinute }: DayHours): RefusalCode | null {
  if (!within(fromMinute, 0, 1440) || !within(toMinute, 0, 1440)) return 'out-of-range'
  return toMinute > fromMinute ? null : 'crew-hours'
}

function placeCode(longitude: unknown, latitude: unknown): RefusalCode | null {
  if (!Number.isFinite(longitude) || !Number.isFinite(latitude)) return 'malformed'
  return within(longitude, -180, 180) && within(latitude, -89, 89) ? null : 'geometry-outside-world'
}

function within(value: unknown, least: number, most: number): boolean {
  return typeof value === 'number' && value >= least && value <= most
}
