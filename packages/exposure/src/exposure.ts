import { type Arc, flatArcs, unionOfArcs } from './arcs.ts'
import { angleFromBearing, bearingFromAngle, FULL_TURN } from './bearing.ts'
import { densityAt, type Lobe, lobesOf } from './density.ts'
import { bodyArcs, type Fall, type FallConditions, fallOf, scatterArcs } from './fall.ts'
import { type ExposureFlag, flag } from './flags.ts'
import { groundOf, peopledZones, type SharedGround, sharedGround } from './ground.ts'
import { contactEvents, touchingArcs } from './kernel/contact.ts'
import type { Shelter } from './kernel/shelter.ts'
import { nestingOf } from './nesting.ts'
import { type Nodes, nodesOver } from './nodes.ts'
import { meanPeople } from './occupancy.ts'
import { jointPresence, type Presence, presence, sumOver } from './people.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { type FailingPart, type FallingPart, fallingPartOf } from './scenario.ts'
import { type Silhouette, silhouetteOf, silhouetteReachM } from './silhouette.ts'
import { slidesOn } from './slope.ts'
import type { FallingTree } from './tree.ts'
import { type ZoneAround, type ZoneRings, zoneRings } from './zone.ts'

/** Changes whenever a figure may come out otherwise for the same inputs; stored with every result. */
export const exposureMethodVersion = 'exposure 2'

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
  const figures = exposureOfSilhouette(silhouette, lobes, zones, conditionsOf(tree, policy))
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
    flags: [...flags, ...groundFlags(tree, policy), ...figures.flags],
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
 * Error bounds, held by tests. Level ground, no shelter, sound wood: P_touch within 1e-7 of the exact contact events,
 * P_any within 1e-5, mean people within 1e-5 of one more than their number. On a slope or with scatter the ends of contact
 * are found by trial: contact over less than half a degree may be missed (1.4e-3 of all bearings). A shelter's shadow is
 * good to 2e-3 of the zone's figure.
 */
export function exposureOfSilhouette(
  silhouette: Silhouette,
  lobes: readonly Lobe[],
  zones: readonly ZoneAround[],
  conditions: FallConditions = {},
): { zones: ZoneExposure[]; joint: Exposure; flags: ExposureFlag[] } {
  const fall = fallOf(silhouette, conditions)
  const rings = zones.map((zone) => zoneRings(zone.polygons, conditions.pivotM))
  const contacts = rings.map((zone) => contactOf(fall, zone))
  const touched = contacts.map(({ arcs }) => arcs.length > 0)
  if (!touched.includes(true))
    return { zones: zones.map((zone, i) => untouched(zone, rings[i]!)), joint: nothing(), flags: [] }
  const shelters = sheltersOf(fall, zones, rings)
  const nodes = nodesOf(fall, contacts, lobes, shelters.length > 0)
  const grounds = rings.map((zone, i) =>
    touched[i] ? sharedGround(fall, zone, contacts[i]!.arcs, nodes, sheltersFor(shelters, i)) : null,
  )
  const nesting = nestingOf(zones, rings, touched)
  const peopled = peopledZones(fall, zones, rings, grounds, nesting)
  const present = grounds.map((ground, i) =>
    ground ? presence(fall, ground, peopled.zones[i]!, nodes) : null,
  )
  const result = zones.map((zone, i): ZoneExposure => {
    const ground = grounds[i]
    if (!ground) return untouched(zone, rings[i]!)
    return {
      id: zone.id,
      staticTarget: zone.staticTarget,
      ...measured(contacts[i]!.arcs, lobes, present[i]!),
      groundWithin: groundWithin(ground, nodes, lobes, groundOf(zone, rings[i]!)),
      flags: [],
    }
  })
  const all = present.filter((one) => one !== null)
  const joint = measured(
    unionOfArcs(contacts.flatMap(({ arcs }) => arcs)),
    lobes,
    jointPresence(fall, grounds, peopled.zones, all, nodes),
  )
  return { zones: result, joint, flags: [...nesting.flags, ...peopled.flags] }
}

interface Contact {
  arcs: readonly Arc[]
  /** Angles at which the shared area has a kink; none kept where the nodes are dense anyhow. */
  events: readonly number[]
}

function contactOf(fall: Fall, zone: ZoneRings): Contact {
  if (zone.nearestM >= fall.furthestM) return { arcs: [], events: [] }
  if (fall.slope || fall.scatter)
    return { arcs: unionOfArcs([...bodyArcs(fall, zone), ...scatterArcs(fall, zone)]), events: [] }
  const events = contactEvents(fall.silhouette, zone)
  return { arcs: touchingArcs(fall.silhouette, zone, events), events }
}

/** Where there are no closed forms nodes stand this close, radians: two to half a degree. */
const DENSE = Math.PI / 360

function nodesOf(
  fall: Fall,
  contacts: readonly Contact[],
  lobes: readonly Lobe[],
  sheltered: boolean,
): Nodes {
  const flat = contacts.map(({ arcs }) => flatArcs(arcs))
  const breaks = Float64Array.from(contacts.flatMap(({ events }) => events)).sort()
  const dense = sheltered || fall.slope || fall.scatter
  return nodesOver(flatArcs(flat.flat()), flat.flat(2), breaks, lobes, dense ? DENSE : undefined)
}

type ShelterOf = Shelter & { place: number }

/** The zones that can stop this part: buildings with a height, of a class that carries so thick a stem. */
function sheltersOf(fall: Fall, zones: readonly ZoneAround[], rings: readonly ZoneRings[]): ShelterOf[] {
  const carries = fall.policy.shelter.carriesCm
  return zones.flatMap(({ shelter }, place) =>
    shelter &&
    shelter.heightM > 0 &&
    fall.stemDiameterCm !== null &&
    fall.stemDiameterCm <= carries[shelter.class]
      ? [{ rings: rings[place]!, heightM: shelter.heightM, place }]
      : [],
  )
}

const sheltersFor = (all: readonly ShelterOf[], zone: number): ShelterOf[] =>
  all.filter(({ place }) => place !== zone)

function measured(arcs: readonly Arc[], lobes: readonly Lobe[], found: Presence): Exposure {
  const pTouch = ringed(lobes, found.touchByLobe)
  const total = ringed(
    lobes,
    found.stemByLobe.map((stem, i) => stem + found.crownByLobe[i]! + found.scatterByLobe[i]!),
  )
  // Equal where one bearing or nobody is left to differ, but for rounding.
  const pAny = ringed(
    lobes,
    found.anyByLobe.map((any, i) => Math.min(any, found.touchByLobe[i]!)),
  )
  return {
    pTouch,
    people: {
      ...total,
      stem: ringed(lobes, found.stemByLobe).mean,
      crown: ringed(lobes, found.crownByLobe).mean,
      scatter: ringed(lobes, found.scatterByLobe).mean,
    },
    pAny: Math.min(pAny.mean, pTouch.mean, -Math.expm1(-total.mean)),
    pAnyRange: { least: Math.min(pAny.least, -Math.expm1(-total.mean)), most: pAny.most },
    touchingBearings: arcs.map(bearingsOf),
  }
}

function groundWithin(ground: SharedGround, nodes: Nodes, lobes: readonly Lobe[], areaM2: number) {
  const share = (areas: Float64Array) => {
    if (!(areaM2 > 0)) return 0
    const byLobe = lobes.map((lobe, l) => lobe.weight * sumOver(nodes.chance[l]!, ground.at, areas))
    return Math.min(1, byLobe.reduce((sum, one) => sum + one, 0) / areaM2)
  }
  return { stem: share(ground.stemM2), crown: share(ground.crownM2) }
}

function ringed(lobes: readonly Lobe[], byLobe: ArrayLike<number>): Ringed {
  let mean = 0
  let least = Infinity
  let most = -Infinity
  for (let l = 0; l < lobes.length; l++) {
    const value = byLobe[l]!
    mean += lobes[l]!.weight * value
    if (value < least) least = value
    if (value > most) most = value
  }
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
  people: { ...zero(), stem: 0, crown: 0, scatter: 0 },
  pAny: 0,
  pAnyRange: { least: 0, most: 0 },
  touchingBearings: [],
})

const untouched = (zone: ZoneAround, rings: ZoneRings): ZoneExposure => ({
  id: zone.id,
  staticTarget: zone.staticTarget,
  ...nothing(),
  groundWithin: { stem: 0, crown: 0 },
  flags: rings.areaM2 > 0 ? [] : [flag('zone-no-area', zone.id)],
})
