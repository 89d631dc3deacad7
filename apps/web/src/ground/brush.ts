import { addDays, type CivilDate, dayNumber, daysBetween, type RiskWord, riskWords } from '@underbough/model'
import type { DueWeek, RiskCounts } from '../api/index.ts'

/** The weeks between the two pegs: from a Monday up to, not including, a Monday. */
export interface Brush {
  from: CivilDate
  to: CivilDate
}
export type PegName = 'from' | 'to'

/** First Monday of the strip and the Monday after its last week. */
export interface Span {
  first: CivilDate
  end: CivilDate
}
export const spanOf = (weeks: readonly { week: CivilDate }[]): Span | null =>
  weeks.length === 0 ? null : { first: weeks[0]!.week, end: addDays(weeks[weeks.length - 1]!.week, 7) }

const clamp = (date: CivilDate, least: CivilDate, most: CivilDate) =>
  date < least ? least : date > most ? most : date

/** Puts one peg on a Monday. A peg stays within the strip and never passes the other: one week is the least. */
export function movePeg(brush: Brush, peg: PegName, monday: CivilDate, span: Span): Brush {
  return peg === 'from'
    ? { ...brush, from: clamp(monday, span.first, addDays(brush.to, -7)) }
    : { ...brush, to: clamp(monday, addDays(brush.from, 7), span.end) }
}

/** A brush drawn anew between two Mondays in either order, a week wide at least. */
export function drawBrush(a: CivilDate, b: CivilDate, span: Span): Brush {
  const [low, high] = a <= b ? [a, b] : [b, a]
  const from = clamp(low, span.first, addDays(span.end, -7))
  return { from, to: clamp(high > from ? high : addDays(from, 7), addDays(from, 7), span.end) }
}

/** What a key does to a peg: arrows a week, page keys four, Home and End to the strip's edges. Null for any other key. */
export function pegAfterKey(brush: Brush, peg: PegName, key: string, span: Span): Brush | null {
  const steps: Record<string, number> = {
    ArrowLeft: -7,
    ArrowDown: -7,
    ArrowRight: 7,
    ArrowUp: 7,
    PageDown: -28,
    PageUp: 28,
  }
  if (key === 'Home') return movePeg(brush, peg, span.first, span)
  if (key === 'End') return movePeg(brush, peg, span.end, span)
  const step = steps[key]
  return step === undefined ? null : movePeg(brush, peg, addDays(brush[peg], step), span)
}

/** Three weeks back and three ahead, as far as the strip goes. */
export function firstBrush(thisWeek: CivilDate, span: Span): Brush {
  return drawBrush(addDays(thisWeek, -21), addDays(thisWeek, 21), span)
}

/**
 * The brush as the map's filter, in day numbers. The strip's first column gathers everything older, so a brush that
 * begins there has no beginning.
 */
export function brushDays({ from, to }: Brush, span: Span): [from: number, to: number] {
  return [from <= span.first ? -1_000_000 : dayNumber(from), dayNumber(to)]
}

const words = [...riskWords, 'unrated'] as const
export const noCounts = (): RiskCounts => ({ low: 0, moderate: 0, high: 0, extreme: 0, unrated: 0 })
export const totalOf = (counts: RiskCounts): number => words.reduce((sum, word) => sum + counts[word], 0)

/** Weeks with only what a narrowed view leaves: the rated-so words, or only what is overdue. */
export function narrowWeeks(
  weeks: readonly DueWeek[],
  only: { risks?: readonly (RiskWord | 'unrated')[]; overdue?: boolean },
): DueWeek[] {
  const keep = (counts: RiskCounts): RiskCounts => {
    const out = noCounts()
    for (const word of words) if (!only.risks || only.risks.includes(word)) out[word] = counts[word]
    return out
  }
  return weeks.map((w) => ({ week: w.week, due: keep(only.overdue ? w.late : w.due), late: keep(w.late) }))
}

/** Counts trees at hand into the weeks of a strip. Trees due after its end are left out; older ones stand in its first week. */
export function countWeeks(
  trees: readonly { risk: RiskWord | null; week: CivilDate | null; overdue: boolean }[],
  weeks: readonly { week: CivilDate }[],
): DueWeek[] {
  const span = spanOf(weeks)
  const out = weeks.map(({ week }) => ({ week, due: noCounts(), late: noCounts() }))
  if (!span) return out
  for (const { risk, week, overdue } of trees) {
    if (week === null || week >= span.end) continue
    const at = Math.max(0, Math.floor(daysBetween(span.first, week) / 7))
    const word = risk ?? 'unrated'
    out[at]!.due[word]++
    if (overdue) out[at]!.late[word]++
  }
  return out
}

/** What lies between the pegs, all weeks together. */
export function sumWithin(weeks: readonly DueWeek[], brush: Brush | null): RiskCounts {
  const sum = noCounts()
  for (const { week, due } of weeks)
    if (!brush || (week >= brush.from && week < brush.to)) for (const word of words) sum[word] += due[word]
  return sum
}

/** `1 extreme, 12 high, 17 moderate, 28 low`; the worst first, nothing said of what is not there. */
export function sayCounts(counts: RiskCounts): string {
  const parts = [...riskWords].reverse().map((word) => [counts[word], word as string] as const)
  return [...parts, [counts.unrated, 'not yet rated'] as const]
    .filter(([n]) => n > 0)
    .map(([n, word]) => `${n.toLocaleString('en-GB')} ${word}`)
    .join(', ')
}
