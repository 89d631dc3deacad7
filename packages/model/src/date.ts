/**
 * Civil dates, `YYYY-MM-DD`, without a clock. A due date is a day at the site, not an instant.
 * Months are added from an anchor and clamped to the month's end (31 Jan + 1 month is 28 or 29 Feb); they are never chained.
 */
export type CivilDate = string

const DAY_MS = 86_400_000

/** Days since 1970-01-01 of a civil date. Throws RangeError when it is no date of the calendar. */
export function dayNumber(date: CivilDate): number {
  const m = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date)
  if (!m) throw new RangeError(`“${date}” is not a date of the form 2026-11-25`)
  const day = Date.UTC(+m[1]!, +m[2]! - 1, +m[3]!) / DAY_MS
  if (civilDate(day) !== date) throw new RangeError(`“${date}” is not a day of the calendar`)
  return day
}

/** The civil date of a day number. */
export function civilDate(day: number): CivilDate {
  return new Date(day * DAY_MS).toISOString().slice(0, 10)
}

/** True when the text is a real day of the calendar. */
export function isCivilDate(text: string): boolean {
  try {
    dayNumber(text)
    return true
  } catch {
    return false
  }
}

/** Days from `from` to `to`; negative when `to` is earlier. */
export function daysBetween(from: CivilDate, to: CivilDate): number {
  return dayNumber(to) - dayNumber(from)
}

/** The date `days` later (earlier when negative). */
export function addDays(date: CivilDate, days: number): CivilDate {
  return civilDate(dayNumber(date) + days)
}

/** The date `months` after the anchor, clamped to the last day of the month reached. */
export function addMonths(anchor: CivilDate, months: number): CivilDate {
  const start = new Date(dayNumber(anchor) * DAY_MS)
  const first = new Date(Date.UTC(start.getUTCFullYear(), start.getUTCMonth() + months, 1))
  const last = new Date(Date.UTC(first.getUTCFullYear(), first.getUTCMonth() + 1, 0)).getUTCDate()
  first.setUTCDate(Math.min(start.getUTCDate(), last))
  return first.toISOString().slice(0, 10)
}

/** Today's civil date in an IANA time zone, at the given instant. */
export function today(timeZone: string, at: Date = new Date()): CivilDate {
  return new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  }).format(at)
}

/** Day of the week, 0 for Monday to 6 for Sunday. */
export function weekday(date: CivilDate): number {
  return (((dayNumber(date) + 3) % 7) + 7) % 7
}

/** The Monday on or before the date. */
export function mondayOf(date: CivilDate): CivilDate {
  return addDays(date, -weekday(date))
}

/** Minutes after local midnight in an IANA time zone, at the given instant; whole minutes. */
export function minuteOfDay(timeZone: string, at: Date = new Date()): number {
  const parts = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  }).formatToParts(at)
  const figure = (type: string) => Number(parts.find((part) => part.type === type)!.value)
  return figure('hour') * 60 + figure('minute')
}
