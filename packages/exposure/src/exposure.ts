import { angleFromBearing, bearingFromAngle, FULL_TURN } from './bearing.ts'
import { densityAt, type Lobe, lobesOf } from './density.ts'
import { type ExposureFlag, flag } from './flags.ts'
import { areaTable, peopledZones } from './ground.ts'
import { type Arc, touchingArcs } from './kernel/contact.ts'
import { nestingOf } from './nesting.ts'
import { meanPeople } from './occupancy.ts'
import { jointPresence, presence } from './people.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { type Silhouette, silhouetteOf, silhouetteReachM } from './silhouette.ts'
import { chanceWithin, type LobeTable, lobeTable, unionOfArcs } from './table.ts'
import type { FallingTree } from './tree.ts'
import { type ZoneAround, type ZoneRings, zoneRings } from './zone.ts'

/** Changes whenever a figure may come out otherwise for the same inputs; stored with every result. */
export const exposureMethodVersion = 'exposure 1'

/** A figure under the mixture of directions, with its least and most under any one of them alone. */
export interface Ringed {
  mean: number
  least: number
  most: number
}

/** Three figures of one target, all given that the tree fails, never merged. */
export interface Exposure {
  /** Chance that the fallen tree overlaps the zone. */
  pTouch: Ringed
  /** Mean number of people within the fallen outline; `mean` is `stem` (within the wood of the stem) plus `crown`. */
  people: Ringed & { stem: number; crown: number }
  /** Chance that at least one person is within the outline. */
  pAny: number
  /** Bearings of fall that overlap the zone: degrees clockwise from true north, from 0 to below 360, to above it. */
  touchingBearings: { fromDeg: number; toDeg: number }[]
}

export interface ZoneExposure extends Exposure {
  id: string
  staticTarget: boolean
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

const DENSITY_SAMPLES = 72

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
  if (!(tree.heightM > 0)) throw new RangeError('a falling tree has a height above 0 m')
  const { silhouette, flags } = silhouetteOf(tree, policy)
  const lobes = lobesOf(tree, policy)
  const figures = exposureOfSilhouette(silhouette, lobes, zones)
  return {
    methodVersion: exposureMethodVersion,
    silhouette,
    reachM: silhouetteReachM(silhouette),
    zones: figures.zones,
    joint: figures.joint,
    densityPerDeg: Array.from(
      { length: DENSITY_SAMPLES },
      (_, i) => (densityAt(lobes, angleFromBearing((i * 360) / DENSITY_SAMPLES)) * FULL_TURN) / 360,
    ),
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

/**
 * The same for any outline that may come down about the origin and any directions it may take: what a limb or a broken
 * stem needs besides a whole tree.
 */
export function exposureOfSilhouette(
  silhouette: Silhouette,
  lobes: readonly Lobe[],
  zones: readonly ZoneAround[],
): { zones: ZoneExposure[]; joint: Exposure; flags: ExposureFlag[] } {
  const reachM = silhouetteReachM(silhouette)
  const rings = zones.map((zone) => zoneRings(zone.polygons))
  const near = rings.map((zone) => zone.nearestM < reachM)
  const arcs = rings.map((zone, i) => (near[i] ? touchingArcs(silhouette, zone) : []))
  if (arcs.every((list) => list.length === 0))
    return { zones: zones.map((zone, i) => untouched(zone, rings[i]!)), joint: nothing(), flags: [] }
  const tables = lobes.map(lobeTable)
  const areas = rings.map((zone, i) => (arcs[i]!.length ? areaTable(silhouette, zone, arcs[i]!) : null))
  const nesting = nestingOf(
    zones,
    rings,
    arcs.map((list) => list.length > 0),
  )
  const peopled = peopledZones(zones, rings, areas, nesting)
  const present = peopled.zones.map((zone) => presence(zone, tables))
  const result = zones.map((zone, i): ZoneExposure => {
    if (!arcs[i]!.length) return untouched(zone, rings[i]!)
    return {
      id: zone.id,
      staticTarget: zone.staticTarget,
      ...measured(arcs[i]!, tables, present[i]!),
      flags: [],
    }
  })
  const joint = measured(unionOfArcs(arcs.flat()), tables, jointPresence(peopled.zones, present, tables))
  return { zones: result, joint, flags: [...nesting.flags, ...peopled.flags] }
}

function measured(
  arcs: readonly Arc[],
  tables: readonly LobeTable[],
  people: { stemByLobe: number[]; crownByLobe: number[]; pAny: number },
): Exposure {
  const pTouch = ringed(
    tables,
    tables.map((table) => chanceWithin(table, arcs)),
  )
  const total = ringed(
    tables,
    people.stemByLobe.map((stem, i) => stem + people.crownByLobe[i]!),
  )
  return {
    pTouch,
    people: {
      ...total,
      stem: ringed(tables, people.stemByLobe).mean,
      crown: ringed(tables, people.crownByLobe).mean,
    },
    // The table's half-cell at the ends of an arc may put it above the exact chance of touching by a millionth.
    pAny: Math.min(people.pAny, pTouch.mean, -Math.expm1(-total.mean)),
    touchingBearings: arcs.map(bearingsOf),
  }
}

function ringed(tables: readonly LobeTable[], byLobe: readonly number[]): Ringed {
  const mean = byLobe.reduce((sum, value, i) => sum + tables[i]!.lobe.weight * value, 0)
  const least = Math.min(...byLobe)
  const most = Math.max(...byLobe)
  // A mean of them, but for rounding.
  return { mean: Math.min(most, Math.max(least, mean)), least, most }
}

/** Angles run against the clock and bearings with it: an arc's end is its first bearing. */
function bearingsOf([from, to]: Arc): { fromDeg: number; toDeg: number } {
  const width = ((to - from) * 180) / Math.PI
  if (to - from >= FULL_TURN - 1e-11) return { fromDeg: 0, toDeg: 360 }
  const fromDeg = bearingFromAngle(to)
  return { fromDeg, toDeg: fromDeg + width }
}

const zero = (): Ringed => ({ mean: 0, least: 0, most: 0 })

const nothing = (): Exposure => ({
  pTouch: zero(),
  people: { ...zero(), stem: 0, crown: 0 },
  pAny: 0,
  touchingBearings: [],
})

const untouched = (zone: ZoneAround, rings: ZoneRings): ZoneExposure => ({
  id: zone.id,
  staticTarget: zone.staticTarget,
  ...nothing(),
  flags: rings.areaM2 > 0 ? [] : [flag('zone-no-area', zone.id)],
})
