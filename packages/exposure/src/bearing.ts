export const FULL_TURN = 2 * Math.PI

/** The same direction between 0 and below a full turn, radians. */
export function wrapAngle(angle: number): number {
  const wrapped = angle % FULL_TURN
  return wrapped < 0 ? wrapped + FULL_TURN : wrapped
}

/** Degrees clockwise from true north to radians counter-clockwise from east, 0 to below 2π. */
export function angleFromBearing(bearingDeg: number): number {
  return wrapAngle(Math.PI / 2 - (bearingDeg * Math.PI) / 180)
}

/** Radians counter-clockwise from east to degrees clockwise from true north, 0 to below 360. */
export function bearingFromAngle(angle: number): number {
  const bearing = (90 - (angle * 180) / Math.PI) % 360
  return bearing < 0 ? bearing + 360 : bearing
}
