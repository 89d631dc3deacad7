import { addDays, type CivilDate } from '@underbough/model'
import { roundStep } from '../draw/say.ts'
import { barTotal, type DueBar, type DueFacts, weeksFrom } from './data.ts'

/** Where a week stands on the strip; for the pointer as well as for the drawing. */
export interface DueScale {
  leftPx: number
  weekPx: number
  /** Left edge of a day, px. */
  xOf: (date: CivilDate) => number
  /** The Monday nearest to a place, held within the strip (its end is the Monday after the last week). */
  mondayAt: (xPx: number) => CivilDate
}

const RIGHT = 10

/** The scale of a strip this wide. Throws RangeError without a week. */
export function dueScale({ weeks }: Pick<DueFacts, 'weeks'>, widthPx: number, textScale = 1): DueScale {
  const first = weeks[0]?.weekOf
  if (!first) throw new RangeError('a strip needs at least one week')
  const leftPx = 16 + 30 * textScale
  const weekPx = Math.max(1, (widthPx - leftPx - RIGHT) / weeks.length)
  return {
    leftPx,
    weekPx,
    xOf: (date) => leftPx + Math.min(weeks.length, Math.max(0, weeksFrom(first, date))) * weekPx,
    mondayAt: (xPx) =>
      addDays(first, 7 * Math.min(weeks.length, Math.max(0, Math.round((xPx - leftPx) / weekPx)))),
  }
}

/** The counting axis: top of it and its steps. */
export function countAxis(bars: readonly DueBar[], heightPx: number): { most: number; step: number } {
  const most = Math.max(4, ...bars.map((bar) => Math.max(barTotal(bar), bar.capacity ?? 0))) * 1.06
  return { most, step: Math.max(1, roundStep((most * 26) / Math.max(26, heightPx))) }
}
