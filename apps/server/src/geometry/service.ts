import type { Session } from '@underbough/db'
import type { AreaGeometry, GroundGeometry, Position } from '@underbough/model'
import { refuse } from '../http/problem.ts'
import { measure } from './queries.ts'

/** Less than this is the rounding of coordinates, not a place (Assumption: one square centimetre). */
const LEAST_AREA_M2 = 1e-4
const LEAST_LENGTH_M = 1e-2

/**
 * Refuses a shape that is no place on the ground: open rings, an outline that crosses itself, no area, no length. Holes are allowed.
 * Returns its area on the ellipsoid in square metres; 0 for lines.
 */
export async function checkedAreaM2(
  session: Session,
  geometry: AreaGeometry | GroundGeometry,
  path = 'geometry',
): Promise<number> {
  const rings = ringsOf(geometry)
  for (const ring of rings)
    if (ring[0]![0] !== ring.at(-1)![0] || ring[0]![1] !== ring.at(-1)![1])
      refuse('malformed', path, 'A ring must end at the point where it begins (RFC 7946).')
  const { valid, reason, areaM2, lengthM } = await measure(session, geometry)
  if (rings.length === 0) {
    if (lengthM < LEAST_LENGTH_M) refuse('geometry-no-area', path, 'All points of the line lie on one place.')
    return 0
  }
  if (areaM2 < LEAST_AREA_M2)
    refuse(
      'geometry-no-area',
      path,
      'The outline encloses no area. Draw at least three corners that are not in one line.',
    )
  if (!valid)
    refuse(
      'geometry-crosses-itself',
      path,
      `The outline crosses itself (${reason}). Move the corner and try again.`,
    )
  return areaM2
}

function ringsOf(geometry: AreaGeometry | GroundGeometry): Position[][] {
  if (geometry.type === 'Polygon') return geometry.coordinates
  if (geometry.type === 'MultiPolygon') return geometry.coordinates.flat()
  return []
}
