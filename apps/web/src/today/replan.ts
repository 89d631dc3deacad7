import { minuteOfDay, type Position, today } from '@underbough/model'
import { clockOf, restOf, shorterOrder } from '@underbough/rounds'
import type { Stop } from '../api/index.ts'
import { type Filled, inHand, travelOf } from './dayHere.ts'

export interface Replanned {
  stopIds: string[]
  /** Those that come at another place than before, with both places among the open stops. */
  moves: { stop: Stop; from: number; to: number }[]
  /** Minutes on the way that the new order saves; 0 where none is shorter. */
  savesMinutes: number
}

/**
 * The open stops in an order with less way from where the crew is now to where its day ends; nothing falls off the day. `from` is null
 * where the phone does not say: then it starts at the last stop with an end.
 */
export function replan(day: Filled, from: Position | null, timeZone: string, at = new Date()): Replanned {
  const nowMinute = today(timeZone, at) === day.date ? minuteOfDay(timeZone, at) : null
  const given = restOf(inHand(day), nowMinute)
  const rest = from ? { ...given, from } : given
  const travel = travelOf(day)
  const stopIds = shorterOrder(rest, travel)
  const byId = new Map(rest.stops.map((stop) => [stop.id, stop]))
  const next = { ...rest, stops: stopIds.map((id) => byId.get(id)!) }
  const before = rest.stops.map((stop) => stop.id)
  return {
    stopIds,
    savesMinutes: clockOf(rest, travel).travelMinutes - clockOf(next, travel).travelMinutes,
    moves: stopIds.flatMap((id, i) => {
      const stop = day.daySheet.stops.find((one) => one.id === id)!
      const was = before.indexOf(id)
      return was === i ? [] : [{ stop, from: was + 1, to: i + 1 }]
    }),
  }
}
