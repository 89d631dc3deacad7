import { addDays, type CivilDate, daysBetween, mondayOf, type RiskWord, riskWords } from '@underbough/model'
import { counted, listed } from '../draw/say.ts'

/** Looks due in one week. */
export interface DueWeek {
  /** Monday of the week. */
  weekOf: CivilDate
  counts: Readonly<Record<RiskWord, number>>
  /** Trees never rated, due on their baseline date. */
  unrated?: number
  /** Visits the crews can make in the week; null where it is not known. */
  capacity?: number | null
}

/** What the strip shows. Weeks follow one another without a hole. */
export interface DueFacts {
  weeks: readonly DueWeek[]
  /** Any day of this week. */
  today: CivilDate
  /** From a Monday up to, not including, a Monday. */
  brush: { from: CivilDate; to: CivilDate } | null
  rounds?: readonly { letter: string; from: CivilDate /** First day after it. */; to: CivilDate }[]
}

/** A bar: one week, or one month in the narrow strip. */
export interface DueBar {
  from: CivilDate
  to: CivilDate
  counts: Readonly<Record<RiskWord, number>>
  unrated: number
  capacity: number | null
  past: boolean
}

export const barTotal = (bar: Pick<DueBar, 'counts' | 'unrated'>): number =>
  riskWords.reduce((sum, risk) => sum + bar.counts[risk], bar.unrated)

export function weekBars({ weeks, today }: DueFacts): DueBar[] {
  const thisWeek = mondayOf(today)
  return weeks.map((week) => ({
    from: week.weekOf,
    to: addDays(week.weekOf, 7),
    counts: week.counts,
    unrated: week.unrated ?? 0,
    capacity: week.capacity ?? null,
    past: week.weekOf < thisWeek,
  }))
}

/** Weeks gathered by the month of their Monday; the weeks past stand by themselves. */
export function monthBars(facts: DueFacts): DueBar[] {
  const bars: DueBar[] = []
  for (const week of weekBars(facts)) {
    const last = bars.at(-1)
    if (last && last.past === week.past && (week.past || last.from.slice(0, 7) === week.from.slice(0, 7))) {
      const counts = Object.fromEntries(
        riskWords.map((risk) => [risk, last.counts[risk] + week.counts[risk]]),
      )
      const capacity = last.capacity === null || week.capacity === null ? null : last.capacity + week.capacity
      bars[bars.length - 1] = {
        ...last,
        to: week.to,
        counts: counts as DueBar['counts'],
        unrated: last.unrated + week.unrated,
        capacity,
      }
    } else bars.push(week)
  }
  return bars
}

/** Weeks between the first and a date, with a fraction for days inside a week. */
export const weeksFrom = (first: CivilDate, date: CivilDate): number => daysBetween(first, date) / 7

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']
export const monthName = (date: CivilDate): string => months[Number(date.slice(5, 7)) - 1]!
const dayMonth = (date: CivilDate): string =>
  `${Number(date.slice(8))} ${monthName(date)} ${date.slice(0, 4)}`

/** “1 extreme, 12 high, 17 moderate and 28 low”. */
function risksSaid(bars: readonly Pick<DueBar, 'counts' | 'unrated'>[]): string {
  const parts = [...riskWords]
    .reverse()
    .map((risk) => ({ risk: risk as string, count: bars.reduce((sum, bar) => sum + bar.counts[risk], 0) }))
    .concat([{ risk: 'not rated', count: bars.reduce((sum, bar) => sum + bar.unrated, 0) }])
    .filter(({ count }) => count > 0)
    .map(({ risk, count }) => `${count} ${risk}`)
  return listed(parts)
}

const said = (bars: readonly DueBar[]): string => {
  const total = bars.reduce((sum, bar) => sum + barTotal(bar), 0)
  return total === 0 ? 'no trees' : `${counted(total, 'tree')}: ${risksSaid(bars)}`
}

/** The strip in words: what is overdue, what is between the pegs, what comes. */
export function describeDue(facts: DueFacts): string {
  const bars = weekBars(facts)
  const late = bars.filter((bar) => bar.past)
  const ahead = bars.filter((bar) => !bar.past)
  const parts = [
    `Looks due by week, stacked by risk. Overdue: ${said(late)}`,
    `From this week on: ${said(ahead)}`,
  ]
  if (facts.brush) parts.push(`Between the pegs, ${dueCaption(facts).replace(/\.$/, '')}`)
  const full = ahead.filter((bar) => bar.capacity !== null && barTotal(bar) > bar.capacity)
  if (full.length > 0) parts.push(`${counted(full.length, 'week')} with more due than the crews can visit`)
  return `${parts.join('. ')}.`
}

/** What lies between the pegs, or in all weeks. */
export function dueCaption(facts: DueFacts): string {
  const { brush } = facts
  const inside = weekBars(facts).filter((bar) => !brush || (bar.from >= brush.from && bar.from < brush.to))
  const first = brush?.from ?? inside[0]?.from
  if (!first) return 'No weeks to show.'
  const last = addDays(brush?.to ?? inside.at(-1)!.to, -1)
  return `${dayMonth(first)} to ${dayMonth(last)}: ${said(inside)}.`
}
