import type { Position } from '@underbough/model'
import {
  distanceToZoneM,
  exposureAround,
  fallingTreeOn,
  hoursOfZones,
  searchM,
  type ZoneOnGround,
  zonesAround,
} from './around.ts'
import { circleOfM } from './circle.ts'
import { type Lobe, lobesOf } from './density.ts'
import {
  type Exposure,
  exposureOf,
  exposureOfScenario,
  type TreeExposure,
  type ZoneExposure,
} from './exposure.ts'
import type { ExposureFlag } from './flags.ts'
import { chancePresent, meanPeople } from './occupancy.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { type RoadOutcomes, roadOutcomesOf } from './roads.ts'
import type { FailingPart } from './scenario.ts'
import { type ShelterFacts, shelterFactsOf } from './shelter-facts.ts'
import { type Silhouette, silhouetteReachM } from './silhouette.ts'
import type { FallingTree } from './tree.ts'
import type { ZoneAround } from './zone.ts'

/** A tree's record, as far as it bears on who is under it. */
export type TreeOnGround = Parameters<typeof fallingTreeOn>[0] & {
  position: Position
  positionAccuracyM?: number | null
}

/** A failing part of the rating in force. */
export type ScenarioOnRecord = FailingPart & { id: string }

/** What a zone's record says that a reader needs beside its figures. */
export interface ZoneFacts {
  id: string
  /** Mean over the year. */
  meanPeople: number
  /** Share of hours somebody is there; 1 for a structure. */
  shareOfHours: number
  groupSize: number | null
  partOf: string | null
}

/** Figures of one failing part of the rating. */
export interface PartUnder {
  scenarioId: string
  reachM: number
  zones: ZoneExposure[]
  joint: Exposure
  /** Outcomes of each road that it may fall across. */
  roads: RoadUnder[]
  flags: ExposureFlag[]
}

/** What may happen on one road, given that the part falls across it. */
export interface RoadUnder extends Omit<RoadOutcomes, 'flags'> {
  zoneId: string
}

/** What a page says at once about who is under one tree; `Closer` has the rest. Everything is given that it fails. */
export interface Under {
  whole: TreeExposure
  /** People within the outline if no building stopped anything; null where none could. */
  peopleUnsheltered: number | null
  shelters: ShelterFacts[]
  zones: ZoneFacts[]
  roads: RoadUnder[]
  parts: PartUnder[]
}

/**
 * Who is under a tree and under each part that its rating says may fail, from the records alone. `zones` of any number, near and
 * far. Null where nothing stands that could fall.
 */
export function underOf(
  tree: TreeOnGround,
  windRose: readonly number[] | null,
  zones: readonly ZoneOnGround[],
  scenarios: readonly ScenarioOnRecord[],
  policy: ExposurePolicy = defaultExposurePolicy,
): Under | null {
  const falling = fallingTreeOn(tree, windRose)
  if (!falling) return null
  const at = tree.position
  const within = searchUnderM(tree, falling, policy)
  const near = zones.filter((zone) => distanceToZoneM(at, zone.geometry) <= within)
  const hours = hoursOfZones(near)
  const whole = exposureAround(falling, at, near, hours, policy)
  const around = zonesAround(at, near, hours)
  const shelters = shelterFactsOf(
    whole.silhouette,
    falling.stemDiameterCm,
    around.map((zone, i) => ({
      ...zone,
      heightM: near[i]!.shelterHeightM ?? null,
      class: near[i]!.shelterClass ?? null,
    })),
    policy,
  )
  const stops = shelters.some(({ does }) => does === 'stops' || does === 'overhangs')
  const ofRoads = roadsUnder(
    whole.silhouette,
    lobesOf(falling, policy),
    whole.zones,
    near,
    around,
    [0, 0],
    policy,
  )
  const bare = around.map((zone) => ({ ...zone, shelter: null }))
  return {
    whole: { ...whole, flags: [...whole.flags, ...ofRoads.flags] },
    peopleUnsheltered: stops ? exposureOf(falling, bare, policy).joint.people.mean : null,
    shelters,
    zones: near.map((zone) => ({
      id: zone.id,
      meanPeople: meanPeople(hours.get(zone.id)!),
      shareOfHours: zone.staticTarget ? 1 : chancePresent(hours.get(zone.id)!, zone.groupSize ?? 1),
      groupSize: zone.groupSize ?? null,
      partOf: zone.partOf,
    })),
    roads: ofRoads.roads,
    parts: scenarios.map((scenario): PartUnder => {
      const part = exposureOfScenario(falling, scenario, around, policy)
      const { silhouette, lobes, pivotM, zones: figures, joint } = part
      const { roads, flags } = roadsUnder(silhouette, lobes, figures, near, around, pivotM, policy)
      return {
        scenarioId: scenario.id,
        reachM: silhouetteReachM(silhouette),
        zones: figures,
        joint,
        roads,
        flags: [...part.flags, ...flags],
      }
    }),
  }
}

/** Outcomes of the roads among the zones; `near` and `around` are the same zones as recorded and as the tree sees them. */
function roadsUnder(
  silhouette: Silhouette,
  lobes: readonly Lobe[],
  figures: readonly ZoneExposure[],
  near: readonly ZoneOnGround[],
  around: readonly ZoneAround[],
  [pivotEast, pivotNorth]: readonly [number, number],
  policy: ExposurePolicy,
): { roads: RoadUnder[]; flags: ExposureFlag[] } {
  const roads: RoadUnder[] = []
  const flags: ExposureFlag[] = []
  near.forEach(({ id, occupancy }, i) => {
    const { touchingBearings } = figures[i]!
    if (occupancy.kind !== 'vehicles' || touchingBearings.length === 0) return
    const polygons = around[i]!.polygons.map((rings) =>
      rings.map((ring) => ring.map((p) => [p[0]! - pivotEast, p[1]! - pivotNorth])),
    )
    const road = { polygons, hours: around[i]!.hours, profile: occupancy }
    const outcomes = roadOutcomesOf(silhouette, lobes, road, touchingBearings, policy)
    if (!outcomes) return
    const { flags: ofRoad, ...rest } = outcomes
    roads.push({ zoneId: id, ...rest })
    flags.push(...ofRoad.map(({ code }) => ({ code, zoneIds: [id] })))
  })
  return { roads, flags }
}

/** How far from a tree's place its zones are looked for, metres: beyond its reach by the accuracy of its place. */
export const searchUnderM = (tree: TreeOnGround, falling: FallingTree, policy: ExposurePolicy): number =>
  searchM(falling, policy) + circleOfM(tree)
