import { planRounds } from './plan.ts'
import type { TravelModel } from './travel.ts'
import type { LonLat } from './types.ts'

/** One open stop of a day under way. Minutes at the tree are those planned for it. */
export interface OpenStop {
  id: string
  longitude: number
  latitude: number
  serviceMinutes: number
}

/** What is left of one crew's day: where it goes on from and when, what is open in the order meant, and where it ends. */
export interface RestOfDay {
  from: LonLat
  /** Minutes after local midnight at which the crew sets out for the first open stop. */
  fromMinute: number
  stops: readonly OpenStop[]
  end: LonLat
  /** The pause that is still to come: between two stops once `atMinute` is reached. */
  pause?: { minutes: number; atMinute: number } | undefined
}

/** The clock of an open stop; metres are those of the way to it. */
export interface StopClock {
  id: string
  arriveMinute: number
  startMinute: number
  leaveMinute: number
  travelM: number
}
export interface RestClock {
  stops: StopClock[]
  /** Back at the end place. */
  endMinute: number
  /** The whole way that is left, with the one back to the end place. */
  travelMinutes: number
  travelM: number
}

/**
 * The clock of what is left of a day, stop by stop in the order given. Throws where the travel model refuses its points.
 */
export function clockOf(day: RestOfDay, travel: TravelModel): RestClock {
  const { stops, pause } = day
  const ways = waysOf(day, travel)
  const last = stops.length + 1
  const clock: RestClock = { stops: [], endMinute: day.fromMinute, travelMinutes: 0, travelM: 0 }
  let at = day.fromMinute
  let paused = !pause || at >= pause.atMinute
  const go = (from: number, to: number) => {
    const minutes = ways.seconds[from * (last + 1) + to] / 60
    at += minutes
    clock.travelMinutes += minutes
    if (!paused && at >= pause!.atMinute) {
      at += pause!.minutes
      paused = true
    }
    const metres = ways.metres(from, to)
    clock.travelM += metres
    return metres
  }
  stops.forEach((stop, i) => {
    const travelM = go(i, i + 1)
    const arrived = at
    at += stop.serviceMinutes
    clock.stops.push({ id: stop.id, arriveMinute: arrived, startMinute: arrived, leaveMinute: at, travelM })
  })
  if (stops.length > 0) go(stops.length, last)
  clock.endMinute = at
  return clock
}

function waysOf({ from, stops, end }: RestOfDay, travel: TravelModel) {
  const answer = travel.matrix([
    { key: 'start:here', longitude: from[0], latitude: from[1] },
    ...stops.map((stop) => ({
      key: `visit:${stop.id}`,
      longitude: stop.longitude,
      latitude: stop.latitude,
    })),
    { key: 'end:here', longitude: end[0], latitude: end[1] },
  ])
  if (!answer.ok) throw new Error(answer.refusals.map((one) => one.message).join(' '))
  return answer.value
}

/** Steps of the search for one day; 40 stops take a few tenths of a second on a phone's processor. */
const defaultIterations = 4000

/**
 * The open stops in an order with less way from where the crew is to where its day ends: never more than in the order given.
 * The same day and number of steps give the same order. Every stop stays on the day. Throws where the travel model refuses.
 */
export function shorterOrder(day: RestOfDay, travel: TravelModel, iterations = defaultIterations): string[] {
  const given = day.stops.map((stop) => stop.id)
  if (given.length < 2) return given
  // Time at the trees is the same in any order, so it is left out: nothing may fall off the day for want of hours.
  const date = '2000-01-03'
  const plan = planRounds(
    {
      from: date,
      days: 1,
      travel,
      crews: [
        {
          id: 'here',
          name: 'here',
          level: 3,
          equipment: [],
          members: [],
          start: day.from,
          end: day.end,
          hours: Array.from({ length: 7 }, () => ({ fromMinute: 0, toMinute: 1440 })),
          daysOff: [],
        },
      ],
      visits: day.stops.map(({ id, longitude, latitude }) => ({
        id,
        longitude,
        latitude,
        serviceMinutes: 0,
        level: 1,
        equipment: [],
        riskWeight: 1,
        dueOn: date,
      })),
    },
    { seed: 1, iterations },
  )
  if (!plan.ok) throw new Error(plan.refusals.map((one) => one.message).join(' '))
  const order = plan.value.daySheets.flatMap((sheet) => sheet.stops.map((stop) => stop.visitId))
  const found = [...order, ...given.filter((id) => !order.includes(id))]
  const byId = new Map(day.stops.map((stop) => [stop.id, stop]))
  const way = (ids: readonly string[]) =>
    clockOf({ ...day, stops: ids.map((id) => byId.get(id)!), pause: undefined }, travel).travelMinutes
  return way(found) < way(given) - 1e-9 ? found : given
}
