import { addBearings } from './arcs.ts'
import { densityPerDegOf, type Lobe, lobesOf } from './density.ts'
import { type Fall, type FallConditions, fallOf } from './fall.ts'
import { type ExposureFlag, flag } from './flags.ts'
import { meanPeople } from './occupancy.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { Reckoner } from './reckoner.ts'
import { type FailingPart, type FallingPart, fallingPartOf } from './scenario.ts'
import { type Silhouette, silhouetteOf, silhouetteReachM } from './silhouette.ts'
import { slidesOn } from './slope.ts'
import type { FallingTree } from './tree.ts'
import { type ZoneAround, zoneRings } from './zone.ts'

/** Changes whenever a figure may come out otherwise for the same inputs; stored with every result. */
export const exposureMethodVersion = 'exposure 3'

/** A figure under the mixture of directions, with its least and most under any one of them alone. */
export interface Ringed {
  mean: number
  least: number
  most: number
}

/** Three figures of one target, all given that the tree fails, never merged. */
export interface Exposure {
  /** Chance that the fallen tree, or what scatters from it, overlaps the zone. */
  pTouch: Ringed
  /**
   * Mean number of people within the fallen outline; `mean` is `stem` (within the wood of the stem) plus `crown` plus
   * `scatter` (within what dead or brittle wood throws beyond its reach; 0 for sound trees).
   */
  people: Ringed & { stem: number; crown: number; scatter: number }
  /** Chance that at least one person is within the outline. */
  pAny: number
  /** Its least and most under any one direction alone. */
  pAnyRange: { least: number; most: number }
  /** Bearings of fall that overlap the zone: degrees clockwise from true north, from 0 to below 360, to above it. */
  touchingBearings: { fromDeg: number; toDeg: number }[]
}

export interface ZoneExposure extends Exposure {
  id: string
  staticTarget: boolean
  /** Mean share of the zone's ground within the outline. Times the value at stake: value within the outline, no estimate of damage. */
  groundWithin: { stem: number; crown: number }
  flags: ExposureFlag[]
}

export interface TreeExposure {
  methodVersion: string
  silhouette: Silhouette
  /** How far the tree reaches, metres in plan. 1 × height is the trade's convention, not a limit. */
  reachM: number
  zones: ZoneExposure[]
  /** All zones together, joined at each bearing: neither a sum nor a product of chances. */
  joint: Exposure
  /** Chance per degree of falling towards each of 72 bearings: 0, 5, 10 … 355. */
  densityPerDeg: number[]
  /** The reasons behind the bearing, with their shares. */
  reasons: { kind: Lobe['kind']; share: number }[]
  flags: ExposureFlag[]
  inputs: {
    tree: FallingTree
    policy: ExposurePolicy
    zones: { id: string; areaM2: number; meanPeople: number; partOf: string | null }[]
  }
}

/**
 * Who is under a tree if it fails whole, zone by zone and together.
 *
 * `zones` lie in the plane whose origin is the tree (metres east and north). Zones out of reach get zeros. Chances are
 * conditional on failure: they say nothing about how likely that is. P_any ≤ min(P_touch, 1 − e^−people) always holds.
 * Throws RangeError on a height that is not above zero: `fallingTreeOf` refuses such a tree with a reason.
 */
export function exposureOf(
  tree: FallingTree,
  zones: readonly ZoneAround[],
  policy: ExposurePolicy = defaultExposurePolicy,
): TreeExposure {
  const { fall, lobes, flags } = falling(tree, policy)
  const { silhouette } = fall
  const figures = under(fall, lobes, zones)
  return {
    methodVersion: exposureMethodVersion,
    silhouette,
    reachM: silhouetteReachM(silhouette),
    zones: figures.zones,
    joint: figures.joint,
    densityPerDeg: densityPerDegOf(tree, policy),
    reasons: lobes.map(({ kind, weight }) => ({ kind, share: weight })),
    flags: [...flags, ...figures.flags],
    inputs: {
      tree,
      policy,
      zones: zones.map((zone) => ({
        id: zone.id,
        areaM2: zone.areaM2,
        meanPeople: meanPeople(zone.hours),
        partOf: zone.partOf ?? null,
      })),
    },
  }
}

/** A whole tree as it falls, and what must be known of it. Throws RangeError on a height that is not above zero. */
export function falling(
  tree: FallingTree,
  policy: ExposurePolicy,
): { fall: Fall; lobes: Lobe[]; flags: ExposureFlag[] } {
  if (!(tree.heightM > 0)) throw new RangeError('a falling tree has a height above 0 m')
  const { silhouette, flags } = silhouetteOf(tree, policy)
  return {
    fall: fallOf(silhouette, conditionsOf(tree, policy)),
    lobes: lobesOf(tree, policy),
    flags: [...flags, ...groundFlags(tree, policy)],
  }
}

const conditionsOf = (tree: FallingTree, policy: ExposurePolicy): FallConditions => ({
  slope: tree.slope ?? null,
  brittle: tree.brittle ?? false,
  stemDiameterCm: tree.stemDiameterCm,
  policy,
})

const groundFlags = (tree: FallingTree, policy: ExposurePolicy): ExposureFlag[] =>
  tree.slope && slidesOn(tree.slope, policy) ? [flag('run-out-unbounded')] : []

/** Who is under the part that a rating's scenario says may fail: see `fallingPartOf` for its outline and directions. */
export function exposureOfScenario(
  tree: FallingTree,
  scenario: FailingPart,
  zones: readonly ZoneAround[],
  policy: ExposurePolicy = defaultExposurePolicy,
): FallingPart & { zones: ZoneExposure[]; joint: Exposure } {
  const falling = fallingPartOf(tree, scenario, policy)
  const figures = exposureOfSilhouette(falling.silhouette, falling.lobes, zones, {
    ...conditionsOf(tree, policy),
    part: falling.part,
    pivotM: falling.pivotM,
  })
  const flags = [...falling.flags, ...groundFlags(tree, policy), ...figures.flags]
  return { ...falling, zones: figures.zones, joint: figures.joint, flags }
}

/**
 * The same for any outline that may come down about its pivot and any directions it may take: what a limb or a broken
 * stem needs besides a whole tree.
 *
 * Error bounds, held by tests against slow truths. P_touch within 1e-7, from exact contact events; P_any within 1e-6, mean
 * people within 1e-6 of one more than their number, under the mixture and under each direction alone. What scatters has exact
 * events, too. On a slope the ends of contact are found by trial: contact over less than half a degree may be missed (1.4e-3
 * of all bearings). Behind a shelter P_touch is as exact as without; people there are held
 * only to 6e-4 of those in the zone.
 */
export function exposureOfSilhouette(
  silhouette: Silhouette,
  lobes: readonly Lobe[],
  zones: readonly ZoneAround[],
  conditions: FallConditions = {},
): { zones: ZoneExposure[]; joint: Exposure; flags: ExposureFlag[] } {
  return under(fallOf(silhouette, conditions), lobes, zones, conditions.pivotM)
}

function under(
  fall: Fall,
  lobes: readonly Lobe[],
  zones: readonly ZoneAround[],
  pivotM?: readonly [east: number, north: number],
): { zones: ZoneExposure[]; joint: Exposure; flags: ExposureFlag[] } {
  reckoner.begin()
  for (const zone of zones) zoneRings(zone.polygons, pivotM, reckoner.add(zone).rings)
  reckoner.run(fall, lobes)
  const { targets } = reckoner
  const result = zones.map((zone, t): ZoneExposure => {
    const target = targets[t]!
    return {
      id: zone.id,
      staticTarget: zone.staticTarget,
      ...measured(t, target.arcs),
      groundWithin: {
        stem: shareOf(target.wholeStemM2, target.groundM2),
        crown: shareOf(target.wholeCrownM2, target.groundM2),
      },
      flags: target.rings.areaM2 > 0 ? [] : [flag('zone-no-area', zone.id)],
    }
  })
  return { zones: result, joint: measured(-1, reckoner.jointArcs()), flags: reckoner.flags }
}

const reckoner = new Reckoner()

/** Share of the ground within the outline, at most 1. */
export const shareOf = (withinM2: number, groundM2: number): number =>
  groundM2 > 0 ? Math.min(1, withinM2 / groundM2) : 0

/** One target's figures, all targets' together at −1. */
function measured(t: number, arcs: readonly number[]): Exposure {
  reckoner.figures(t)
  const [touch, touchLeast, touchMost, people, least, most, stem, crown, scatter, any, anyLeast, anyMost] =
    reckoner.row as unknown as number[]
  return {
    pTouch: { mean: touch!, least: touchLeast!, most: touchMost! },
    people: { mean: people!, least: least!, most: most!, stem: stem!, crown: crown!, scatter: scatter! },
    pAny: any!,
    pAnyRange: { least: anyLeast!, most: anyMost! },
    touchingBearings: bearingsOf(arcs),
  }
}

function bearingsOf(arcs: readonly number[]): { fromDeg: number; toDeg: number }[] {
  const flat: number[] = []
  addBearings(arcs, flat)
  return Array.from({ length: flat.length / 2 }, (_, i) => ({
    fromDeg: flat[2 * i]!,
    toDeg: flat[2 * i + 1]!,
  }))
}
