import { type CivilDate, dayNumber, minuteOfDay, type Position } from '@underbough/model'
import { getPosition, getTimes } from 'suncalc'

/** When the sun is up at a place on a date: upper edge on the horizon, with the usual refraction. */
export interface Daylight {
  rise: Date | null
  set: Date | null
  /** Where it neither rises nor sets: is it up all day, or down? */
  all: 'day' | 'night' | null
}

/** Daylight at a place (WGS84 degrees) on a civil date there. Neither hills nor crowns are taken into account. */
export function daylightOf(date: CivilDate, [longitude, latitude]: Position): Daylight {
  const noon = new Date(dayNumber(date) * 86_400_000 + (12 - longitude / 15) * 3_600_000)
  const { sunrise, sunset } = getTimes(noon, latitude, longitude)
  const all = sunrise || sunset ? null : getPosition(noon, latitude, longitude).altitude > 0 ? 'day' : 'night'
  return { rise: sunrise, set: sunset, all }
}

/** Minutes after midnight at which the light ends at the site; null where it does not end that day. */
export function lightEndsMinute(light: Daylight, timeZone: string): number | null {
  if (light.all === 'night') return 0
  return light.set ? minuteOfDay(timeZone, light.set) : null
}
