import { type Position, planeAt } from '@underbough/model'
import type { ZoneOnGround } from './around.ts'
import type { ZoneRings } from './kernel/rings.ts'
import { makeRoom, measureRings } from './kernel/rings.ts'
import { type HourClass, hourClassesOfYear } from './occupancy.ts'

/**
 * Zones laid out once for many trees. Corners stay in WGS84 degrees: each tree has its own plane, so the table has no origin
 * and may cover a street or a country. Everything in it can be sent to a worker thread.
 */
export interface ZoneTable {
  /** Number of zones; a zone is named below by its place, 0 to count − 1. */
  count: number
  ids: string[]
  zones: Omit<ZoneOnGround, 'geometry'>[]
  /** Longitude and latitude of corners; rings closed, outer ones counter-clockwise, holes clockwise. */
  longitude: Float64Array
  latitude: Float64Array
  /** Where each ring begins in the corners, and at the end their number. */
  ringStarts: Int32Array
  /** Where each zone's rings begin in `ringStarts`, and at the end the number of rings. */
  zoneStarts: Int32Array
  /** Which of `profiles` each zone has: zones whose weeks are equal share one. */
  profileOf: Int32Array
  profiles: HourClass[][]
}

export function zoneTable(zones: readonly ZoneOnGround[]): ZoneTable {
  const longitude: number[] = []
  const latitude: number[] = []
  const ringStarts = [0]
  const zoneStarts = [0]
  const profiles: HourClass[][] = []
  const known = new Map<string, number>()
  const profileOf = new Int32Array(zones.length)
  zones.forEach((zone, z) => {
    const { geometry } = zone
    const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates
    for (const rings of polygons)
      rings.forEach((ring, place) => {
        const corners = openRing(ring)
        const area = signedArea(corners)
        if (area === 0) return
        if (area > 0 !== (place === 0)) corners.reverse()
        for (const [lon, lat] of [...corners, corners[0]!]) {
          longitude.push(lon!)
          latitude.push(lat!)
        }
        ringStarts.push(longitude.length)
      })
    zoneStarts.push(ringStarts.length - 1)
    const key = JSON.stringify([zone.occupancy, zone.seasons])
    let profile = known.get(key)
    if (profile === undefined) {
      profile = profiles.length
      known.set(key, profile)
      profiles.push(hourClassesOfYear(zone.occupancy, zone.seasons))
    }
    profileOf[z] = profile
  })
  return {
    count: zones.length,
    ids: zones.map(({ id }) => id),
    zones: zones.map(({ geometry: _, ...zone }) => zone),
    longitude: Float64Array.from(longitude),
    latitude: Float64Array.from(latitude),
    ringStarts: Int32Array.from(ringStarts),
    zoneStarts: Int32Array.from(zoneStarts),
    profileOf,
    profiles,
  }
}

const openRing = (ring: readonly (readonly number[])[]) => {
  const last = ring[ring.length - 1]
  const closed = ring.length > 1 && last![0] === ring[0]![0] && last![1] === ring[0]![1]
  return ring.slice(0, closed ? -1 : undefined)
}

function signedArea(ring: readonly (readonly number[])[]): number {
  const [lon, lat] = ring[0] ?? [0, 0]
  let twice = 0
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++)
    twice += (ring[j]![0]! - lon!) * (ring[i]![1]! - lat!) - (ring[i]![0]! - lon!) * (ring[j]![1]! - lat!)
  return twice
}

export interface Projection {
  longitude: number
  latitude: number
  perLon: number
  perLat: number
  /** East for each degree of both, north for each square degree of latitude and of longitude. */
  both: number
  latLat: number
  lonLon: number
}

/** The plane about a place as the polynomial of second degree that it is, read off at a few degrees from it. */
export function projection([longitude, latitude]: Position): Projection {
  const plane = planeAt(longitude, latitude)
  const [perLon, lonLon] = plane.toMetres(longitude + 1, latitude)
  const [, up] = plane.toMetres(longitude, latitude + 1)
  const [, down] = plane.toMetres(longitude, latitude - 1)
  const [corner] = plane.toMetres(longitude + 1, latitude + 1)
  return {
    longitude,
    latitude,
    perLon,
    perLat: (up - down) / 2,
    both: corner - perLon,
    latLat: (up + down) / 2,
    lonLon,
  }
}

/** A zone's rings in metres east and north of a tree. */
export function layOut(table: ZoneTable, place: number, at: Projection, out: ZoneRings): void {
  const { longitude, latitude, ringStarts, zoneStarts } = table
  const firstRing = zoneStarts[place]!
  const lastRing = zoneStarts[place + 1]!
  const first = ringStarts[firstRing]!
  makeRoom(out, ringStarts[lastRing]! - first)
  out.starts.length = 1
  for (let ring = firstRing; ring < lastRing; ring++) out.starts.push(ringStarts[ring + 1]! - first)
  for (let i = first, k = 0; i < ringStarts[lastRing]!; i++, k++) {
    let lon = longitude[i]! - at.longitude
    if (lon > 180) lon -= 360
    else if (lon < -180) lon += 360
    const lat = latitude[i]! - at.latitude
    out.x[k] = lon * (at.perLon + at.both * lat)
    out.y[k] = lat * (at.perLat + at.latLat * lat) + at.lonLon * lon * lon
  }
  measureRings(out)
}
