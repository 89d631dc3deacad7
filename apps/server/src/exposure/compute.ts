import {
  exposureOf,
  type FallingTree,
  fallingTreeOf,
  type HourClass,
  hourClassesOf,
  reachOf,
  type TreeExposure,
  type ZoneAround,
} from '@underbough/exposure'
import { type Position, planeAt } from '@underbough/model'
import type { ExposureTree, ExposureZone } from './queries.ts'

/** The tree as it would fall, or null where nothing stands that could: gone, a stump, or neither height nor stem known. */
export function falling(tree: ExposureTree): FallingTree | null {
  if (tree.status === 'gone' || tree.status === 'stump') return null
  const made = fallingTreeOf(tree, tree.windRose)
  return made.ok ? made.value : null
}

export const reachMOf = (tree: FallingTree) => reachOf(tree)

/** Hours of many zones, grouped once each. */
export function hoursOfZones(zones: ExposureZone[]): Map<string, HourClass[]> {
  return new Map(zones.map((zone) => [zone.id, hourClassesOf(zone.occupancy)]))
}

/** Figures of one tree over the zones near it, in the plane around the tree. */
export function exposureAround(
  tree: FallingTree,
  at: Position,
  zones: ExposureZone[],
  hours: Map<string, HourClass[]>,
): TreeExposure {
  const plane = planeAt(at[0], at[1])
  const flat = (ring: Position[]) => ring.map(([lon, lat]) => plane.toMetres(lon, lat))
  const around = zones.map(
    (zone): ZoneAround => ({
      id: zone.id,
      polygons: (zone.geometry.type === 'Polygon'
        ? [zone.geometry.coordinates]
        : zone.geometry.coordinates
      ).map((rings) => rings.map(flat)),
      areaM2: zone.areaM2,
      hours: hours.get(zone.id)!,
      staticTarget: zone.staticTarget,
      partOf: zone.partOf,
    }),
  )
  return exposureOf(tree, around)
}
