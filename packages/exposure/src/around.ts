import {
  type AreaGeometry,
  type OccupancyProfile,
  type Position,
  planeAt,
  type SeasonWeek,
  type ShelterClass,
  type TreeInput,
} from '@underbough/model'
import { exposureOf, type TreeExposure } from './exposure.ts'
import { type HourClass, hourClassesOfYear } from './occupancy.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { outlineAt, reachOf } from './silhouette.ts'
import { type FallingTree, fallingTreeOf } from './tree.ts'
import { type ZoneAround, zoneRings } from './zone.ts'

/** What exposure asks of a zone's record. Outline in WGS84 degrees. */
export interface ZoneOnGround {
  id: string
  geometry: AreaGeometry
  areaM2: number
  occupancy: OccupancyProfile
  /** Weeks of months that have another one than `occupancy`. */
  seasons?: readonly SeasonWeek[]
  /** People who come together; null or left out: not known. */
  groupSize?: number | null
  staticTarget: boolean
  shelterHeightM?: number | null
  shelterClass?: ShelterClass | null
  partOf: string | null
}

/** The tree as it would fall, or null where nothing stands that could: gone, a stump, or neither height nor stem known. */
export function fallingTreeOn(
  tree: Parameters<typeof fallingTreeOf>[0] & { status: TreeInput['status'] },
  windRose: readonly number[] | null,
): FallingTree | null {
  if (tree.status === 'gone' || tree.status === 'stump') return null
  const made = fallingTreeOf(tree, windRose)
  return made.ok ? made.value : null
}

/** Hours of many zones, grouped once each. */
export function hoursOfZones(zones: readonly ZoneOnGround[]): Map<string, HourClass[]> {
  return new Map(zones.map((zone) => [zone.id, hourClassesOfYear(zone.occupancy, zone.seasons)]))
}

/** Polygons of a zone in metres east and north of a place. */
function around(at: Position, geometry: AreaGeometry): ZoneAround['polygons'] {
  const plane = planeAt(at[0], at[1])
  const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates
  return polygons.map((rings) => rings.map((ring) => ring.map(([lon, lat]) => plane.toMetres(lon, lat))))
}

/** Figures of one tree over the zones near it, in the plane around the tree. `hours` holds an entry for each zone. */
export function exposureAround(
  tree: FallingTree,
  at: Position,
  zones: readonly ZoneOnGround[],
  hours: ReadonlyMap<string, HourClass[]>,
  policy: ExposurePolicy = defaultExposurePolicy,
): TreeExposure {
  return exposureOf(tree, zonesAround(at, zones, hours), policy)
}

/** Zones as a tree at a place sees them. A building shelters where both its height and its class are on record. */
export function zonesAround(
  at: Position,
  zones: readonly ZoneOnGround[],
  hours: ReadonlyMap<string, HourClass[]>,
): ZoneAround[] {
  return zones.map((zone) => ({
    id: zone.id,
    polygons: around(at, zone.geometry),
    areaM2: zone.areaM2,
    hours: hours.get(zone.id)!,
    staticTarget: zone.staticTarget,
    partOf: zone.partOf,
    groupSize: zone.groupSize ?? 1,
    shelter:
      zone.shelterHeightM && zone.shelterClass
        ? { heightM: zone.shelterHeightM, class: zone.shelterClass }
        : null,
  }))
}

/** Nearest distance from a place to a zone, metres; 0 within it. Planar. */
export const distanceToZoneM = (at: Position, geometry: AreaGeometry): number =>
  zoneRings(around(at, geometry)).nearestM

/** Zones are looked for within a tree's reach and this much more, metres. */
export const SEARCH_BEYOND_M = 1

/** How far from a tree its zones are looked for, metres: as far as it reaches, or what dead or brittle wood throws. */
export const searchM = (tree: FallingTree, policy: ExposurePolicy = defaultExposurePolicy): number =>
  reachOf(tree, policy) * (tree.brittle ? Math.max(1, policy.scatter.beyond) : 1) + SEARCH_BEYOND_M

/** Where the tree lies if it falls on its likeliest bearing: that bearing in degrees, and a ring of longitude and latitude. */
export function likeliestOutline(
  tree: FallingTree,
  at: Position,
  densityPerDeg: readonly number[],
  policy: ExposurePolicy = defaultExposurePolicy,
) {
  const index = densityPerDeg.indexOf(Math.max(...densityPerDeg))
  const bearingDeg = (index * 360) / densityPerDeg.length
  const plane = planeAt(at[0], at[1])
  return {
    outlineBearingDeg: bearingDeg,
    outline: outlineAt(tree, bearingDeg, policy).map(
      ([east, north]): Position => plane.toDegrees(east, north),
    ),
  }
}
