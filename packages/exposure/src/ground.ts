import { type Arc, flatArcs } from './arcs.ts'
import { type Fall, scatterM2, silhouetteAt } from './fall.ts'
import { type ExposureFlag, flag } from './flags.ts'
import { type Overlap, overlapAt } from './kernel/area.ts'
import { type Shelter, shelteredAt } from './kernel/shelter.ts'
import type { Nesting } from './nesting.ts'
import { type Nodes, nodesWithin } from './nodes.ts'
import { type HourClass, hourClasses, meanPeople, weekOf, weightsOf } from './occupancy.ts'
import { chanceOfAny } from './series.ts'
import type { ZoneAround, ZoneRings } from './zone.ts'

/** Ground shared by what falls and a zone, square metres, at the nodes where they may meet. */
export interface SharedGround {
  /** Places of the nodes, ascending; the other arrays run along with it. */
  at: Int32Array
  stemM2: Float64Array
  crownM2: Float64Array
  /** Ring of scattered pieces, before coverage; null where nothing scatters. */
  scatterM2: Float64Array | null
  /** Chance that something of what falls lies in the zone, given the bearing; null where it is 1 at all of them. */
  touch: Float64Array | null
}

/** Measures what falls against a zone at the nodes within the arcs of contact. */
export function sharedGround(
  fall: Fall,
  zone: ZoneRings,
  arcs: readonly Arc[],
  nodes: Nodes,
  shelters: readonly Shelter[],
): SharedGround {
  const at = nodesWithin(nodes, flatArcs(arcs))
  const shared: SharedGround = {
    at,
    stemM2: new Float64Array(at.length),
    crownM2: new Float64Array(at.length),
    scatterM2: fall.scatter ? new Float64Array(at.length) : null,
    touch: fall.scatter || shelters.length ? new Float64Array(at.length) : null,
  }
  const out: Overlap = { stemM2: 0, crownM2: 0 }
  for (let i = 0; i < at.length; i++) {
    const node = at[i]!
    const silhouette = fall.slope ? silhouetteAt(fall, nodes.angle[node]!) : fall.silhouette
    overlapAt(silhouette, zone, nodes.cos[node]!, nodes.sin[node]!, out)
    // Rounding may leave a hair below zero.
    shared.stemM2[i] = Math.max(0, out.stemM2)
    shared.crownM2[i] = Math.max(0, out.crownM2)
    if (shared.touch) layers(fall, zone, nodes, node, shelters, shared, i)
  }
  return shared
}

/** Shelters take from the outline and scatter adds beyond it. Pieces that fly are not held up by a wall. */
function layers(
  fall: Fall,
  zone: ZoneRings,
  nodes: Nodes,
  node: number,
  shelters: readonly Shelter[],
  shared: SharedGround,
  i: number,
): void {
  const { residual, least } = fall.policy.shelter
  let touch = shared.stemM2[i]! + shared.crownM2[i]! > 0 ? 1 : 0
  if (touch && shelters.length) {
    const silhouette = silhouetteAt(fall, nodes.angle[node]!)
    const lost = shelteredAt(silhouette, zone, shelters, nodes.cos[node]!, nodes.sin[node]!, {
      residual: Math.max(residual, least),
      least,
    })
    shared.stemM2[i] = Math.max(least * shared.stemM2[i]!, shared.stemM2[i]! - lost.stemM2)
    shared.crownM2[i] = Math.max(least * shared.crownM2[i]!, shared.crownM2[i]! - lost.crownM2)
    touch = lost.stemM2 + lost.crownM2 > 0 ? Math.max(least, lost.left) : 1
  }
  if (shared.scatterM2 && fall.scatter) {
    shared.scatterM2[i] = scatterM2(fall, zone, nodes.angle[node]!)
    if (shared.scatterM2[i]! > 0) touch = Math.max(touch, fall.scatter.chance)
  }
  shared.touch![i] = touch
}

/** A zone with its people spread over the ground that is its own. */
export interface PeopledZone {
  ground: SharedGround | null
  hours: readonly HourClass[]
  /** Mean number over the week; 0 where no ground is left to spread them over. */
  people: number
  /** Ground over which the people are spread, square metres; more of it where a roof keeps part of them. */
  areaM2: number
  groupSize: number
  /** Chance of at least one person within, along with the ground's nodes. */
  any: Float64Array
}

/** Takes inner zones out of outer ones: their ground, and by `partOf` their people (see `nestingOf`). */
export function peopledZones(
  fall: Fall,
  zones: readonly ZoneAround[],
  rings: readonly ZoneRings[],
  grounds: readonly (SharedGround | null)[],
  nesting: Nesting,
): { zones: PeopledZone[]; flags: ExposureFlag[] } {
  const flags: ExposureFlag[] = []
  const sizes = zones.map((zone, i) => groundOf(zone, rings[i]!))
  const peopled = zones.map((zone, i): PeopledZone => {
    const inside = nesting.inside[i]!
    const parts = nesting.parts[i]!.map((k) => zones[k]!)
    const left = parts.length ? peopleLeft(zone, parts) : { hours: zone.hours, short: false }
    if (left.short) flags.push(flag('part-holds-more', zone.id))
    const areaM2 = sizes[i]! - inside.reduce((sum, k) => sum + sizes[k]!, 0)
    const own = inside.length
      ? without(
          grounds[i]!,
          inside.map((k) => grounds[k]!),
        )
      : grounds[i]!
    const underRoof = zone.shelter ? fall.policy.shelter.penetration[fall.part] : 1
    return spread(fall, own, left.hours, areaM2, zone.groupSize ?? 1, underRoof)
  })
  return { zones: peopled, flags }
}

/** Ground over which a zone's people are spread, square metres. */
export const groundOf = (zone: ZoneAround, rings: ZoneRings): number =>
  zone.areaM2 > 0 ? zone.areaM2 : rings.areaM2

function spread(
  fall: Fall,
  ground: SharedGround | null,
  hours: readonly HourClass[],
  ownM2: number,
  groupSize: number,
  underRoof: number,
): PeopledZone {
  const people = ownM2 > 0 && underRoof > 0 ? meanPeople(hours) : 0
  const areaM2 = underRoof > 0 ? ownM2 / underRoof : ownM2
  const any = new Float64Array(ground && people > 0 ? ground.at.length : 0)
  if (any.length > 0) {
    const chance = chanceOfAny(hours, groupSize)
    const { stemM2, crownM2, scatterM2: ring, touch } = ground!
    for (let i = 0; i < any.length; i++) {
      const body = stemM2[i]! + crownM2[i]!
      any[i] = chance(body / areaM2)
      if (ring && fall.scatter) {
        const with_ = chance((body + fall.scatter.coverage * ring[i]!) / areaM2)
        any[i] = any[i]! + fall.scatter.chance * (with_ - any[i]!)
      }
      if (touch && any[i]! > touch[i]!) any[i] = touch[i]!
    }
  }
  return { ground, hours, people, areaM2, groupSize, any }
}

function without(ground: SharedGround | null, inner: readonly (SharedGround | null)[]): SharedGround | null {
  const cut = inner.filter((one) => one !== null)
  if (!ground || cut.length === 0) return ground
  const own = {
    ...ground,
    stemM2: ground.stemM2.slice(),
    crownM2: ground.crownM2.slice(),
    scatterM2: ground.scatterM2?.slice() ?? null,
  }
  for (const one of cut) {
    let k = 0
    for (let i = 0; i < own.at.length && k < one.at.length; i++) {
      while (k < one.at.length && one.at[k]! < own.at[i]!) k++
      if (one.at[k] !== own.at[i]) continue
      own.stemM2[i] = Math.max(0, own.stemM2[i]! - one.stemM2[k]!)
      own.crownM2[i] = Math.max(0, own.crownM2[i]! - one.crownM2[k]!)
      if (own.scatterM2 && one.scatterM2)
        own.scatterM2[i] = Math.max(0, own.scatterM2[i]! - one.scatterM2[k]!)
    }
  }
  return own
}

function peopleLeft(zone: ZoneAround, parts: readonly ZoneAround[]): { hours: HourClass[]; short: boolean } {
  const people = weekOf(zone.hours)
  for (const part of parts)
    weekOf(part.hours).forEach((count, hour) => {
      people[hour]! -= count
    })
  const short = people.some((count) => count < -1e-9)
  return {
    hours: hourClasses(
      people.map((count) => Math.max(0, count)),
      weightsOf(zone.hours),
    ),
    short,
  }
}
