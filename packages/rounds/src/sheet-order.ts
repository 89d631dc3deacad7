import type { VisitLevel } from '@underbough/model'
import { clockOf, type RestOfDay } from './day.ts'
import type { TravelModel } from './travel.ts'
import type { LonLat } from './types.ts'
import { serviceMinutes } from './weights.ts'

/** A stop of an issued day as it stands. `leaveMinute` equal to `startMinute` means that nobody planned its minutes yet: its level's are taken. */
export interface StopInHand {
  id: string
  longitude: number
  latitude: number
  level: VisitLevel
  end: 'visited' | 'skipped' | null
  arriveMinute: number
  startMinute: number
  leaveMinute: number
  travelM: number
}

/** An issued day as it stands, its stops in their order. */
export interface SheetInHand {
  startMinute: number
  start: LonLat
  end: LonLat
  pause?: { minutes: number; atMinute: number } | undefined
  stops: readonly StopInHand[]
}

/** The clock of a whole day, given anew. */
export interface SheetClock {
  stops: StopInHand[]
  endMinute: number
  travelMinutes: number
  travelM: number
  serviceMinutes: number
}

/** Stops in the order a crew means to go: those with an end first, as they were; then those named; then what nobody named, as it was. */
export function inOrder<T extends { id: string }>(
  stops: readonly T[],
  ids: readonly string[],
  hasEnded: (stop: T) => boolean,
): T[] {
  const open = stops.filter((stop) => !hasEnded(stop))
  const named = [...new Set(ids)].flatMap((id) => open.filter((stop) => stop.id === id))
  return [...stops.filter(hasEnded), ...named, ...open.filter((stop) => !named.includes(stop))]
}

/** To the whole second, as plans have it: minutes stored in single precision would creep with each new order. */
const wholeSecond = (minutes: number) => Math.round(minutes * 60) / 60
const minutesAt = (stop: StopInHand) =>
  stop.leaveMinute > stop.startMinute
    ? wholeSecond(stop.leaveMinute - stop.startMinute)
    : serviceMinutes(stop.level)

/** What is left of a day: from the last stop with an end, or from where the day begins; not before `nowMinute`, where the day is under way. */
export function restOf(sheet: SheetInHand, nowMinute: number | null): RestOfDay {
  const ended = sheet.stops.filter((stop) => stop.end !== null)
  const last = ended.at(-1)
  const planned = last ? (last.end === 'skipped' ? last.arriveMinute : last.leaveMinute) : sheet.startMinute
  return {
    from: last ? [last.longitude, last.latitude] : sheet.start,
    fromMinute: wholeSecond(Math.max(planned, nowMinute ?? planned)),
    stops: sheet.stops
      .filter((stop) => stop.end === null)
      .map(({ id, longitude, latitude, ...stop }) => ({
        id,
        longitude,
        latitude,
        serviceMinutes: minutesAt({ id, longitude, latitude, ...stop }),
      })),
    end: sheet.end,
    pause: sheet.pause,
  }
}

/**
 * The clock of a day whose order or stops changed. Stops with an end keep their times. Minutes after local midnight; `nowMinute` is the
 * clock at the change, or null on another day. Throws where the travel model refuses.
 */
export function clockOfSheet(
  sheet: SheetInHand,
  travel: TravelModel,
  nowMinute: number | null = null,
): SheetClock {
  const rest = clockOf(restOf(sheet, nowMinute), travel)
  const clocks = new Map(rest.stops.map((stop) => [stop.id, stop]))
  const stops = sheet.stops.map((stop) => ({ ...stop, ...clocks.get(stop.id) }))
  const whole = clockOf(
    {
      from: sheet.start,
      fromMinute: 0,
      end: sheet.end,
      stops: sheet.stops.map((stop) => ({ ...stop, serviceMinutes: minutesAt(stop) })),
    },
    travel,
  )
  return {
    stops,
    endMinute: rest.endMinute,
    travelMinutes: whole.travelMinutes,
    travelM: whole.travelM,
    serviceMinutes: stops.reduce((sum, stop) => sum + (stop.end === 'skipped' ? 0 : minutesAt(stop)), 0),
  }
}
