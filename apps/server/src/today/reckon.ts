import type { Session } from '@underbough/db'
import { type CivilDate, minuteOfDay, type Organisation, today, weekday } from '@underbough/model'
import { clockOfSheet, inOrder, type SheetInHand, straightLineTravel } from '@underbough/rounds'
import type { When } from '../entries/handle.ts'
import { detourFactor } from '../plans/queries.ts'
import * as queries from './queries.ts'

/** Way over straight line where no site says its own; an assumption, as in every plan. */
export const defaultDetour = 1.3

export const hasEnd = ({ stop }: queries.StopRow) => stop.doneVisitId !== null || stop.skippedBecause !== null

/** The crew's pause on a date: in the middle of its hours, as every plan has it. */
export function pauseOf(
  crew: { hours: ({ fromMinute: number; toMinute: number } | null)[]; breakMinutes: number },
  date: CivilDate,
) {
  const hours = crew.hours[weekday(date)]
  return hours && crew.breakMinutes > 0
    ? { minutes: crew.breakMinutes, atMinute: (hours.fromMinute + hours.toMinute) / 2 }
    : undefined
}

/** The clock at the site when an entry was made, as minutes after midnight; null on another day than the sheet's. */
export function minuteOf(organisation: Organisation, when: When, date: CivilDate): number | null {
  const made = new Date(Date.parse(when.madeAt) + when.clockOffsetMs)
  return today(organisation.timeZone, made) === date ? minuteOfDay(organisation.timeZone, made) : null
}

/** Gives a sheet's stops the order of `ids` (their own where nobody named any) and their clock anew, and the sheet its totals. */
export async function reckon(
  tx: Session,
  organisationId: string,
  { sheet, crew }: queries.LockedSheet,
  ids: readonly string[],
  nowMinute: number | null,
) {
  const rows = await queries.stopsInHand(tx, organisationId, sheet.id)
  const ordered =
    ids.length === 0
      ? rows
      : inOrder(
          rows.map((row) => ({ ...row, id: row.stop.id })),
          ids,
          hasEnd,
        )
  const inHand: SheetInHand = {
    startMinute: sheet.startMinute,
    start: crew.start,
    end: crew.end,
    pause: pauseOf(crew, sheet.date),
    stops: ordered.map(({ stop, longitude, latitude }) => ({
      ...stop,
      longitude,
      latitude,
      end: stop.doneVisitId ? 'visited' : stop.skippedBecause ? 'skipped' : null,
    })),
  }
  const travel = straightLineTravel({
    detourFactor: (await detourFactor(tx, organisationId)) ?? defaultDetour,
  })
  const clock = clockOfSheet(inHand, travel, nowMinute)
  for (const [i, stop] of clock.stops.entries()) {
    const { id, arriveMinute, startMinute, leaveMinute, travelM } = stop
    await queries.changeStop(tx, organisationId, id, {
      order: i + 1,
      arriveMinute,
      startMinute,
      leaveMinute,
      travelM,
    })
  }
  const { travelMinutes, travelM, serviceMinutes } = clock
  await queries.changeSheet(tx, organisationId, sheet.id, {
    endMinute: Math.round(clock.endMinute),
    travelMinutes,
    travelM,
    serviceMinutes,
  })
}
