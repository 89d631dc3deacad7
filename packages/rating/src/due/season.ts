import { addDays, addMonths, type CivilDate, daysBetween } from '@underbough/model'
import type { LeafPreference, Policy } from '../policy/policy.ts'

export type SeasonStep = 'in-season' | 'moved-earlier' | 'waits-for-season' | 'out-of-season'

/** Months of the year (1 to 12) in which a look is wanted; null where every month will do. */
export function seasonMonths(
  prefer: LeafPreference,
  hemisphere: 'north' | 'south',
  policy: Policy,
): ReadonlySet<number> | null {
  if (prefer === 'any') return null
  const months = policy.season.months[prefer]
  return new Set(hemisphere === 'north' ? months : months.map((month) => ((month + 5) % 12) + 1))
}

/**
 * The day on which a look falls: `months` after the last one, clamped to the month's end, then by season. In season it stands.
 * Else the last allowed day before it, if that keeps `keepShare` of the interval; else the next allowed day, if that lies
 * within `graceDays`; else it stands, out of season. Months that are empty or null allow every day.
 */
export function seasonedDate(
  last: CivilDate,
  months: number,
  allowed: ReadonlySet<number> | null,
  graceDays: number,
  keepShare = 2 / 3,
): { on: CivilDate; raw: CivilDate; step: SeasonStep } {
  const raw = addMonths(last, months)
  if (!allowed || allowed.size === 0 || allowed.has(monthOf(raw))) return { on: raw, raw, step: 'in-season' }
  const earlier = lastAllowedBefore(raw, allowed)
  if (daysBetween(last, earlier) >= keepShare * daysBetween(last, raw))
    return { on: earlier, raw, step: 'moved-earlier' }
  const later = firstAllowedAfter(raw, allowed)
  if (daysBetween(raw, later) <= graceDays) return { on: later, raw, step: 'waits-for-season' }
  return { on: raw, raw, step: 'out-of-season' }
}

const monthOf = (date: CivilDate) => Number(date.slice(5, 7))
const firstOf = (date: CivilDate) => `${date.slice(0, 8)}01`

function lastAllowedBefore(date: CivilDate, allowed: ReadonlySet<number>): CivilDate {
  let first = firstOf(date)
  while (!allowed.has(monthOf(addDays(first, -1)))) first = addMonths(first, -1)
  return addDays(first, -1)
}

function firstAllowedAfter(date: CivilDate, allowed: ReadonlySet<number>): CivilDate {
  let first = addMonths(firstOf(date), 1)
  while (!allowed.has(monthOf(first))) first = addMonths(first, 1)
  return first
}
