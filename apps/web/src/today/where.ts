import { type Fix, type Position, planarBearingDeg, planeAt } from '@underbough/model'
import { compassWord } from '@underbough/pictures'

/** The straight line to a place: metres, and degrees clockwise from true north. */
export interface WayThere {
  metres: number
  bearingDeg: number
}

/** Straight from one place to another (WGS84 degrees), on the plane around the first: for ways within a town. */
export function wayThere(from: Position, to: Position): WayThere {
  const [eastM, northM] = planeAt(...from).toMetres(...to)
  return { metres: Math.hypot(eastM, northM), bearingDeg: planarBearingDeg(eastM, northM) }
}

/** Nearer than the phone can tell, or than ten metres: one stands there. */
export const isThere = ({ metres }: WayThere, { accuracyM }: Fix): boolean =>
  metres <= Math.max(10, accuracyM)

/** `240 m, to the north-east`. */
export function sayWayThere(way: WayThere, fix: Fix): string {
  if (isThere(way, fix)) return 'Here, as near as the phone can tell'
  const { metres } = way
  const length =
    metres < 100
      ? `${Math.round(metres)} m`
      : metres < 995
        ? `${Math.round(metres / 10) * 10} m`
        : `${(metres / 1000).toFixed(1)} km`
  return `${length}, to the ${compassWord(way.bearingDeg)}`
}
