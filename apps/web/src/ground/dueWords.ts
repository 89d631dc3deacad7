import { type CivilDate, type Due, daysBetween } from '@underbough/model'
import { sayDate, sayLength } from '../look/index.ts'

/** What is due at a tree, the late thing first: a heading, then sentences. */
export interface DueWords {
  heading: string
  late: boolean
  lines: string[]
}

/** Work that is late is said first, in its own description where `work` gives one, and at full size, the look that waits under it after. */
export function dueWords(due: Due | null, today: CivilDate, work?: string): DueWords {
  if (!due)
    return {
      heading: 'Nothing is due',
      late: false,
      lines: ['This tree has no date for a look: it is gone, or kept as a stump.'],
    }
  const what = due.kind === 'work' ? 'Work' : due.kind === 'baseline' ? 'First look' : 'Look'
  const days = daysBetween(due.on, today)
  const late = days > 0
  const heading = late
    ? due.kind === 'work'
      ? `Work ${sayLength(days)} late`
      : `${what} ${sayLength(days)} overdue`
    : days === 0
      ? `${what} due today`
      : `${what} in ${sayLength(days)}`
  const lines = [`Due ${sayDay(due.on, today)}: ${lower(due.kind === 'work' && work ? work : due.reason)}`]
  if (due.lookOn) {
    const wait = daysBetween(due.lookOn, today)
    lines.push(
      wait > 0
        ? `Look ${sayLength(wait)} overdue, due ${sayDay(due.lookOn, today)}.`
        : `Look due ${sayDay(due.lookOn, today)}.`,
    )
  }
  if (due.outOfSeason)
    lines.push('The date lies out of the season for this look: it could not be moved into it in time.')
  return { heading, late, lines }
}

/** The year only where it is another. */
const sayDay = (date: CivilDate, today: CivilDate) => sayDate(date, date.slice(0, 4) === today.slice(0, 4))
const lower = (sentence: string) => {
  const second = sentence.charAt(1)
  const name = second !== second.toLowerCase()
  const text = name ? sentence : sentence.charAt(0).toLowerCase() + sentence.slice(1)
  return /[.!?]$/.test(text) ? text : `${text}.`
}
