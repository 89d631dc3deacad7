import { planeAt } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { clockOfSheet, inOrder, type SheetInHand, type StopInHand } from './sheet-order.ts'
import { straightLineTravel } from './travel.ts'

const plane = planeAt(-8.25, -31.67)
const travel = straightLineTravel({
  detourFactor: 1,
  walkMetresPerSecond: 1,
  driveMetresPerSecond: 1,
  parkMinutes: 0,
})
const stop = (id: string, northM: number, more: Partial<StopInHand> = {}): StopInHand => {
  const [longitude, latitude] = plane.toDegrees(0, northM)
  const times = { arriveMinute: 0, startMinute: 0, leaveMinute: 0, travelM: 0 }
  return { id, longitude, latitude, level: 2, end: null, ...times, ...more }
}
const sheet: SheetInHand = {
  startMinute: 480,
  start: plane.toDegrees(0, 0),
  end: plane.toDegrees(0, 0),
  stops: [
    stop('a', 600, { end: 'visited', arriveMinute: 490, startMinute: 490, leaveMinute: 502, travelM: 600 }),
    stop('b', 1200, { startMinute: 512, leaveMinute: 532 }),
    stop('c', 1800),
  ],
}

describe('a day whose order changes', () => {
  it('leaves what has an end in front, then what was named, then the rest as it was', () => {
    const stops = ['a', 'b', 'c', 'd', 'e'].map((id) => ({ id, ended: id === 'a' || id === 'd' }))
    const order = (ids: string[]) => inOrder(stops, ids, (s) => s.ended).map((s) => s.id)
    expect(order(['e', 'd', 'b', 'nobody', 'e'])).toEqual(['a', 'd', 'e', 'b', 'c'])
    expect(order([])).toEqual(['a', 'd', 'b', 'c', 'e'])
  })
  it('reckons from the last stop with an end; 600 m at 1 m/s are ten minutes (plain arithmetic)', () => {
    const clock = clockOfSheet(sheet, travel)
    // b keeps the 20 minutes planned for it; c has none, so a basic look's 12 (the assumption of every plan).
    expect(clock.stops.map((s) => [s.arriveMinute, s.leaveMinute, s.travelM])).toEqual([
      [490, 502, 600],
      [512, 532, 600],
      [542, 554, 600],
    ])
    expect(clock).toMatchObject({ endMinute: 584, travelM: 3600, travelMinutes: 60, serviceMinutes: 44 })
  })
  it('begins no earlier than the clock says, and after a skipped stop when it was reached', () => {
    expect(clockOfSheet(sheet, travel, 600).stops[1]!.arriveMinute).toBe(610)
    const skipped = {
      ...sheet,
      stops: [{ ...sheet.stops[0]!, end: 'skipped' as const }, ...sheet.stops.slice(1)],
    }
    expect(clockOfSheet(skipped, travel).stops[1]!.arriveMinute).toBe(500)
  })
})
