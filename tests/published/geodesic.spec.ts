import { planarBearingDeg, planeAt } from '@underbough/model'
import geodesic from 'geographiclib-geodesic'
import { describe, expect, it } from 'vitest'

/** WGS84 geodesics to nanometres: C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013), doi 10.1007/s00190-012-0578-z. */
const earth = geodesic.Geodesic.WGS84
const RAD = Math.PI / 180

/** Rows of the test set of GeographicLib's JavaScript library (geodesic/test/geodesictest.js, commit 2a6853d). */
const lines = [
  {
    lat1: 35.60777,
    lon1: -139.44815,
    azi1: 111.09874842956033,
    lat2: -11.17491,
    lon2: -69.95921,
    s12: 8935244.56048183,
  },
  {
    lat1: 55.52454,
    lon1: 106.05087,
    azi1: 22.0200598809828,
    lat2: 77.03196,
    lon2: 197.18234,
    s12: 4105086.171392441,
  },
  {
    lat1: -21.97856,
    lon1: 142.59065,
    azi1: -32.44456876433189,
    lat2: 41.84138,
    lon2: 98.56635,
    s12: 8394328.894657671,
  },
  {
    lat1: -41.22777,
    lon1: 122.32875,
    azi1: 14.285113402275739,
    lat2: -7.57291,
    lon2: 130.37946,
    s12: 3812686.035106021,
  },
  {
    lat1: -19.79938,
    lon1: -174.47484,
    azi1: 71.16727578017154,
    lat2: -11.99349,
    lon2: -154.35109,
    s12: 2319004.860116939,
  },
  {
    lat1: -68.82867,
    lon1: -74.28391,
    azi1: 93.77434776311487,
    lat2: -50.63005,
    lon2: -8.36685,
    s12: 3956936.926063544,
  },
]

/** What the plane promises in its docstring: 0.02 mm within 500 m, up to 75° of latitude. */
const PROMISED_M = 0.02e-3
const REACH_M = 500

/** Metres between where the plane puts a point of a geodesic and where the geodesic says it is: its length along its bearing. */
function offM(latitude: number, longitude: number, bearingDeg: number, distanceM: number): number {
  const end = earth.Direct(latitude, longitude, bearingDeg, distanceM)
  const [east, north] = planeAt(longitude, latitude).toMetres(end.lon2!, end.lat2!)
  return Math.hypot(
    east - distanceM * Math.sin(bearingDeg * RAD),
    north - distanceM * Math.cos(bearingDeg * RAD),
  )
}

const latitudes = Array.from({ length: 31 }, (_, i) => -75 + 5 * i)
const bearings = Array.from({ length: 24 }, (_, i) => 15 * i)
const distancesM = [1, 10, 50, 100, 250, 500]

describe('the flat plane around a tree against WGS84 geodesics', () => {
  it('is held to a library that gives the published lines', () => {
    for (const { lat1, lon1, azi1, lat2, lon2, s12 } of lines) {
      const found = earth.Inverse(lat1, lon1, lat2, lon2)
      expect(found.s12).toBeCloseTo(s12, 6)
      expect(found.azi1).toBeCloseTo(azi1, 10)
    }
  })

  it('follows the first 500 m of each published line to 0.02 mm', () => {
    for (const { lat1, lon1, azi1 } of lines)
      for (const s of distancesM) expect(offM(lat1, lon1, azi1, s)).toBeLessThan(PROMISED_M)
  })

  it('keeps to 0.02 mm at every bearing within 500 m from 75° south to 75° north, over the date line too', () => {
    for (const latitude of latitudes)
      for (const longitude of [-8.25, 179.999, -179.999])
        for (const bearing of bearings)
          for (const s of distancesM)
            expect(
              offM(latitude, longitude, bearing, s),
              `${s} m at ${bearing}° from ${latitude}°, ${longitude}°`,
            ).toBeLessThan(PROMISED_M)
  })

  it('gives the geodesic azimuth as bearing, to what 0.02 mm is seen under from there', () => {
    for (const latitude of latitudes)
      for (const bearing of bearings)
        for (const s of distancesM) {
          const end = earth.Direct(latitude, 20, bearing, s)
          const seen = planarBearingDeg(...planeAt(20, latitude).toMetres(end.lon2!, end.lat2!))
          const apart = Math.abs(((seen - bearing + 540) % 360) - 180)
          expect(seen).toBeGreaterThanOrEqual(0)
          expect(seen).toBeLessThan(360)
          expect(apart * RAD * s, `${s} m at ${bearing}° from ${latitude}°`).toBeLessThan(PROMISED_M)
        }
  })

  it('lays points where the geodesic of that length and bearing ends, and takes them back', () => {
    for (const latitude of latitudes)
      for (const bearing of bearings) {
        const plane = planeAt(179.998, latitude)
        const [east, north] = [REACH_M * Math.sin(bearing * RAD), REACH_M * Math.cos(bearing * RAD)]
        const [longitude, lat] = plane.toDegrees(east, north)
        const missM = earth.Inverse(latitude, 179.998, lat, longitude)
        const end = earth.Direct(latitude, 179.998, bearing, REACH_M)
        expect(earth.Inverse(end.lat2!, end.lon2!, lat, longitude).s12).toBeLessThan(PROMISED_M)
        expect(missM.s12).toBeCloseTo(REACH_M, 4)
        const [backEast, backNorth] = plane.toMetres(longitude, lat)
        expect(Math.hypot(backEast - east, backNorth - north)).toBeLessThan(1e-6)
      }
  })
})
