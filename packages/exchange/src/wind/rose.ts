import {
  type CivilDate,
  civilDate,
  type GustThreshold,
  type Refusal,
  type WindSummary,
} from '@underbough/model'
import { say } from '../codes.ts'
import { wallClock } from './clock.ts'
import { addReport, roundedTo } from './direction.ts'
import type { WindHour, WindReading } from './read.ts'

const DAY_MS = 86_400_000
/** A rose of fewer days is one or two storms (Assumption). */
const FEW_DAYS = 10
const LONGEST_GAPS = 5

/** The strongest gust of a civil day. */
export interface DayGust {
  on: CivilDate
  gustMps: number
  fromDeg: number | null
  atMs: number
}

/**
 * The strongest gust of each day that had one, by the site's clock; days in their order. Throws RangeError on a time zone that
 * is none.
 */
export function strongestByDay(hours: readonly WindHour[], timeZone: string): DayGust[] {
  const dayOf = dayIn(timeZone)
  const days = new Map<CivilDate, DayGust>()
  for (const { atMs, gustMps, fromDeg } of hours) {
    if (gustMps === null) continue
    const on = dayOf(atMs)
    if (gustMps > (days.get(on)?.gustMps ?? -1)) days.set(on, { on, gustMps, fromDeg, atMs })
  }
  return [...days.values()]
}

function dayIn(timeZone: string): (atMs: number) => CivilDate {
  const clock = wallClock(timeZone)
  if (!clock) throw new RangeError(`no time zone is named “${timeZone}”`)
  return (atMs) => civilDate(Math.floor((atMs + clock.offsetMinutes(atMs) * 60_000) / DAY_MS))
}

/** Strong gusts by where they come from. */
export interface GustRose {
  /** Shares of the sixteen directions, north first, clockwise; null where no strong gust has a direction. */
  rose: number[] | null
  /** Gusts from here on counted; null where there was none at all. */
  fromMps: number | null
  /** Hours of strong gusts with a direction, and on how many days they were. */
  hours: number
  days: number
  hoursByDirection: number[]
  notes: Refusal[]
}

/**
 * Rose of strong gusts: every hour with one counts once. Reports in whole tens of degrees are spread over the ten degrees they
 * stand for. Notes `gusts-none` without any and `gusts-few` on fewer than ten days.
 */
export function roseOfGusts(
  hours: readonly WindHour[],
  threshold: GustThreshold,
  timeZone: string,
): GustRose {
  const blown = hours.filter((hour) => hour.gustMps !== null && hour.fromDeg !== null)
  const fromMps = threshold.kind === 'from' ? threshold.gustMps : strongestShare(hours, threshold.share)
  const strong = blown.filter((hour) => fromMps !== null && hour.gustMps! >= fromMps - 1e-9)
  const dayOf = dayIn(timeZone)
  const days = new Set(strong.map(({ atMs }) => dayOf(atMs))).size
  const sectors = Array.from({ length: 16 }, () => 0)
  const rounding = roundedTo(blown.map((hour) => hour.fromDeg!))
  for (const { fromDeg } of strong) addReport(sectors, fromDeg!, rounding)
  const total = sectors.reduce((sum, one) => sum + one, 0)
  const of = { fromMps, hours: strong.length, days, hoursByDirection: sectors }
  if (strong.length === 0)
    return {
      ...of,
      rose: null,
      notes: [
        say(
          'gusts-none',
          'threshold',
          'No gust with a direction is that strong, so there is no rose. Take a lower limit.',
          {
            value: fromMps,
          },
        ),
      ],
    }
  return {
    ...of,
    rose: sectors.map((hours) => hours / total),
    notes:
      days < FEW_DAYS
        ? [
            say(
              'gusts-few',
              'threshold',
              `The rose rests on ${days} ${days === 1 ? 'day' : 'days'} with strong gusts: a few storms, not a climate. More years or a lower limit would help.`,
              { value: days, limit: `at least ${FEW_DAYS} days` },
            ),
          ]
        : [],
  }
}

/** The gust from which on a share of all gusts are at least as strong. */
function strongestShare(hours: readonly WindHour[], share: number): number | null {
  const gusts = hours.flatMap(({ gustMps }) => (gustMps === null ? [] : [gustMps])).sort((a, b) => b - a)
  return gusts[Math.max(0, Math.ceil(gusts.length * share) - 1)] ?? null
}

/** Everything a person is told about a reading, with the notes that came with it, and its rose. */
export function summaryOf(
  { hours, counts, gaps }: WindReading,
  rose: GustRose,
  notes: readonly Refusal[],
): WindSummary {
  const instant = (ms: number) => new Date(ms).toISOString()
  return {
    ...counts,
    hours: hours.length,
    from: instant(hours[0]!.atMs),
    to: instant(hours.at(-1)!.atMs),
    gaps: gaps.length,
    hoursMissing: gaps.reduce((sum, gap) => sum + gap.hours, 0),
    longestGaps: gaps
      .toSorted((a, b) => b.hours - a.hours || a.afterMs - b.afterMs)
      .slice(0, LONGEST_GAPS)
      .map(({ afterMs, beforeMs, hours: missing }) => ({
        after: instant(afterMs),
        before: instant(beforeMs),
        hours: missing,
      })),
    strongFromMps: rose.fromMps,
    strongHours: rose.hours,
    strongDays: rose.days,
    hoursByDirection: rose.hoursByDirection,
    strongestMps: hours.reduce((most, { gustMps }) => Math.max(most, gustMps ?? 0), 0),
    notes: [...notes, ...rose.notes].map(({ code, message, limit }) => ({ code, message, limit })),
  }
}
