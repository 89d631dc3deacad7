import { planeAt } from '@underbough/model'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { clockOf, type RestOfDay, shorterOrder } from './day.ts'
import { straightLineTravel } from './travel.ts'

const plane = planeAt(-8.25, -31.67)
const at = (eastM: number, northM: number) => plane.toDegrees(eastM, northM)
const stop = (id: string, eastM: number, northM: number, serviceMinutes = 12) => {
  const [longitude, latitude] = at(eastM, northM)
  return { id, longitude, latitude, serviceMinutes }
}
// No detour and a walk of 1 m/s, so that seconds are metres and the clock can be told by hand.
const travel = straightLineTravel({
  detourFactor: 1,
  walkMetresPerSecond: 1,
  driveMetresPerSecond: 1,
  parkMinutes: 0,
})
const day: RestOfDay = {
  from: at(0, 0),
  fromMinute: 600,
  stops: [stop('a', 0, 600), stop('b', 0, 1200, 40)],
  end: at(0, 0),
}

describe('the clock of what is left of a day', () => {
  it('tells arrivals by way and work: 600 m are ten minutes at 1 m/s (plain arithmetic)', () => {
    const clock = clockOf(day, travel)
    expect(clock.stops.map((s) => [s.id, s.arriveMinute, s.leaveMinute, s.travelM])).toEqual([
      ['a', 610, 622, 600],
      ['b', 632, 672, 600],
    ])
    expect([clock.endMinute, clock.travelMinutes, clock.travelM]).toEqual([692, 40, 2400])
  })
  it('pauses once, between two stops, and not again where the pause is over', () => {
    const pause = { minutes: 30, atMinute: 625 }
    expect(clockOf({ ...day, pause }, travel).stops.map((s) => s.arriveMinute)).toEqual([610, 662])
    expect(clockOf({ ...day, pause, fromMinute: 630 }, travel).endMinute).toBe(722)
  })
  it('ends where it is when nothing is open', () => {
    expect(clockOf({ ...day, stops: [] }, travel)).toEqual({
      stops: [],
      endMinute: 600,
      travelMinutes: 0,
      travelM: 0,
    })
  })
})

/** Every order tried: the truth for a few stops. */
function shortest(rest: RestOfDay): number {
  const turns = <T>(list: readonly T[]): T[][] =>
    list.length < 2
      ? [[...list]]
      : list.flatMap((one, i) => turns(list.filter((_, j) => j !== i)).map((tail) => [one, ...tail]))
  return Math.min(...turns(rest.stops).map((stops) => clockOf({ ...rest, stops }, travel).travelMinutes))
}

describe('a shorter order', () => {
  const places = fc.array(
    fc.tuple(fc.integer({ min: -900, max: 900 }), fc.integer({ min: -900, max: 900 })),
    {
      minLength: 1,
      maxLength: 6,
    },
  )
  it('finds the shortest way through up to six stops, as trying every order does', () => {
    fc.assert(
      fc.property(places, (list) => {
        const rest = { ...day, stops: list.map(([e, n], i) => stop(String(i), e, n)) }
        const order = shorterOrder(rest, travel, 1500)
        expect(order.toSorted()).toEqual(rest.stops.map((s) => s.id).toSorted())
        const stops = order.map((id) => rest.stops.find((s) => s.id === id)!)
        expect(clockOf({ ...rest, stops }, travel).travelMinutes).toBeCloseTo(shortest(rest), 6)
      }),
      { numRuns: 25, seed: 7 },
    )
  })
  it('keeps every stop, also where their work would not fit into one day', () => {
    const stops = Array.from({ length: 60 }, (_, i) => stop(String(i), (i * 37) % 500, (i * 91) % 700, 40))
    expect(new Set(shorterOrder({ ...day, stops }, travel, 300)).size).toBe(60)
  })
  it('leaves the order given where none is shorter', () => {
    expect(shorterOrder(day, travel, 500)).toEqual(['a', 'b'])
  })
})
