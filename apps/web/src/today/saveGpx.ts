import { dayToGpx, type GpxPlace } from '@underbough/exchange/gpx'
import type { Stop } from '../api/index.ts'
import { sayDay } from '../look/index.ts'
import { callTree } from './acts.ts'
import type { Filled } from './dayHere.ts'
import { clock, hasEndedStop, sayStop, sayWhence } from './facts.ts'

const placeOf = (stop: Stop): GpxPlace => ({
  longitude: stop.tree.position[0],
  latitude: stop.tree.position[1],
  name: callTree(stop.tree),
  description: [`${clock(stop.arriveMinute)}, ${sayStop(stop)}`, sayWhence(stop), stop.tree.due?.reason]
    .filter(Boolean)
    .join('. '),
})

/** The day as GPX: every stop a waypoint, what is open a route to where the day ends. */
export function gpxOf({ daySheet, crew, date }: Filled, madeAt: string): string {
  const end = { longitude: crew.end[0], latitude: crew.end[1], name: 'End of the day', description: '' }
  const open = daySheet.stops.filter((stop) => !hasEndedStop(stop))
  return dayToGpx({
    name: `${crew.name}, ${sayDay(date)}`,
    description: 'Trees in the order planned, joined by straight lines; not a way to be driven.',
    madeAt,
    places: daySheet.stops.map(placeOf),
    way: [...open.map(placeOf), end],
  })
}

/** Hands the day to the device as a file, made here: no signal is needed. */
export function saveGpx(whole: Filled): void {
  const file = new Blob([gpxOf(whole, new Date().toISOString())], { type: 'application/gpx+xml' })
  const link = document.createElement('a')
  link.href = URL.createObjectURL(file)
  link.download = `${whole.crew.name} ${whole.date}.gpx`
  link.click()
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000)
}
