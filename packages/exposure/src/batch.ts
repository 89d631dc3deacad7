import type { Position } from '@underbough/model'
import { planeAt } from '@underbough/model'
import { addBearings } from './arcs.ts'
import type { ZoneOnGround } from './around.ts'
import { falling, shareOf } from './exposure.ts'
import { type ExposureFlag, type ExposureFlagCode, exposureFlagSentences } from './flags.ts'
import { makeRoom, measureRings } from './kernel/rings.ts'
import type { KnownPairs } from './nesting.ts'
import { type HourClass, hourClassesOfYear } from './occupancy.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { FIGURES, Reckoner } from './reckoner.ts'
import { silhouetteReachM } from './silhouette.ts'
import type { FallingTree } from './tree.ts'
import type { ZoneAround, ZoneRings } from './zone.ts'

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

export interface BatchTree {
  tree: FallingTree
  position: Position
}

/** The figures of `Exposure` as columns, one row a target; chances and people as there. */
export interface FigureColumns {
  touchMean: Float64Array
  touchLeast: Float64Array
  touchMost: Float64Array
  peopleMean: Float64Array
  peopleLeast: Float64Array
  peopleMost: Float64Array
  peopleStem: Float64Array
  peopleCrown: Float64Array
  peopleScatter: Float64Array
  anyMean: Float64Array
  anyLeast: Float64Array
  anyMost: Float64Array
  /** Where each row's touching bearings begin in `bearings`, counted in numbers; at the end their length. */
  bearingStarts: Int32Array
  /** From and to, degrees clockwise from true north, one after the other (`touchingBearings`). */
  bearings: Float64Array
}

/** Figures of many trees over the zones near each. Pairs stand in the order of the trees and of each tree's zones. */
export interface ExposureTable {
  pairs: FigureColumns & {
    /** Place of the tree among those asked for. */
    tree: Int32Array
    /** Place of the zone in the table. */
    zone: Int32Array
    groundStem: Float64Array
    groundCrown: Float64Array
    /** Bit set of `flagCodes`: what concerns this zone. */
    flags: Uint32Array
  }
  /** Row by tree: all its zones together. */
  trees: FigureColumns & {
    reachM: Float64Array
    /** Bit set of `flagCodes`: of the tree and of its zones. */
    flags: Uint32Array
  }
}

/** What each bit of `flags` says, from the lowest. Codes are only ever added at the end. */
export const flagCodes = Object.keys(exposureFlagSentences) as ExposureFlagCode[]

const bitOf = (code: ExposureFlagCode) => 1 << flagCodes.indexOf(code)
const bitsOf = (flags: readonly ExposureFlag[]) => flags.reduce((bits, { code }) => bits | bitOf(code), 0)

/** The flags whose bits are set. */
export const flagsOfBits = (bits: number): ExposureFlagCode[] =>
  flagCodes.filter((_, place) => bits & (1 << place))

/**
 * Who is under many trees if they fail, each over the zones that `near` names for it (places in the table; those out of
 * reach get zeros): the figures of `exposureOf`, tree by tree, as typed columns. Throws RangeError on a tree whose height is
 * not above zero.
 */
export function exposureOfMany(
  trees: readonly BatchTree[],
  near: (tree: number) => ArrayLike<number>,
  table: ZoneTable,
  policy: ExposurePolicy = defaultExposurePolicy,
): ExposureTable {
  let size = 0
  for (let t = 0; t < trees.length; t++) size += near(t).length
  const pairs = new Rows(size)
  const joints = new Rows(trees.length)
  const tree = new Int32Array(size)
  const zone = new Int32Array(size)
  const groundStem = new Float64Array(size)
  const groundCrown = new Float64Array(size)
  const pairFlags = new Uint32Array(size)
  const reachM = new Float64Array(trees.length)
  const treeFlags = new Uint32Array(trees.length)
  const known = seenBefore(table)
  let row = 0
  for (let t = 0; t < trees.length; t++) {
    const places = near(t)
    const one = trees[t]!
    const made = falling(one.tree, policy)
    reckoner.begin()
    const project = projection(one.position)
    for (let i = 0; i < places.length; i++) {
      const spec = known.spec(places[i]!)
      layOut(table, places[i]!, project, reckoner.add(spec).rings)
    }
    reckoner.run(made.fall, made.lobes, known)
    reachM[t] = silhouetteReachM(made.fall.silhouette)
    let flags = bitsOf(made.flags) | bitsOf(reckoner.flags)
    const first = row
    for (let i = 0; i < places.length; i++) {
      const target = reckoner.targets[i]!
      pairs.add(reckoner, i, target.arcs)
      tree[row] = t
      zone[row] = places[i]!
      groundStem[row] = shareOf(target.wholeStemM2, target.groundM2)
      groundCrown[row] = shareOf(target.wholeCrownM2, target.groundM2)
      if (!(target.rings.areaM2 > 0)) pairFlags[row] = bitOf('zone-no-area')
      flags |= pairFlags[row]!
      row++
    }
    for (const { code, zoneIds } of reckoner.flags)
      for (let i = 0; i < places.length; i++)
        if (zoneIds.includes(table.ids[places[i]!]!)) pairFlags[first + i]! |= bitOf(code)
    joints.add(reckoner, -1, reckoner.jointArcs())
    treeFlags[t] = flags
  }
  return {
    pairs: { ...pairs.columns(), tree, zone, groundStem, groundCrown, flags: pairFlags },
    trees: { ...joints.columns(), reachM, flags: treeFlags },
  }
}

/** The buffers of a table, to be handed over to another thread and not copied. */
export const buffersOf = (table: ExposureTable): ArrayBuffer[] =>
  [...Object.values(table.pairs), ...Object.values(table.trees)].map((column) => column.buffer as ArrayBuffer)

const reckoner = new Reckoner()

/** What is worked out once for a table: each zone as the kernel takes it, and how pairs of zones lie to one another. */
class Seen implements KnownPairs {
  readonly relations: KnownPairs['relations'] = new Map()
  private readonly specs: (Spec | undefined)[]

  constructor(private readonly table: ZoneTable) {
    this.specs = new Array(table.count)
  }

  spec(place: number): Spec {
    let spec = this.specs[place]
    if (!spec) {
      const { table } = this
      const zone = table.zones[place]!
      const { groupSize, shelterHeightM, shelterClass } = zone
      spec = {
        place,
        id: zone.id,
        polygons: [],
        areaM2: zone.areaM2,
        hours: table.profiles[table.profileOf[place]!]!,
        staticTarget: zone.staticTarget,
        partOf: zone.partOf,
        groupSize: groupSize ?? 1,
        shelter: shelterHeightM && shelterClass ? { heightM: shelterHeightM, class: shelterClass } : null,
      }
      this.specs[place] = spec
    }
    return spec
  }

  key(one: ZoneAround, other: ZoneAround): number {
    return (one as Spec).place * this.table.count + (other as Spec).place
  }
}

type Spec = ZoneAround & { place: number }

const seen = new WeakMap<ZoneTable, Seen>()

function seenBefore(table: ZoneTable): Seen {
  let known = seen.get(table)
  if (!known) {
    known = new Seen(table)
    seen.set(table, known)
  }
  return known
}

interface Projection {
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
function projection([longitude, latitude]: Position): Projection {
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
function layOut(table: ZoneTable, place: number, at: Projection, out: ZoneRings): void {
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

/** Figures gathered row by row. */
class Rows {
  private readonly figures: Float64Array[]
  private readonly starts: Int32Array
  private readonly bearings: number[] = []
  private row = 0

  constructor(size: number) {
    this.figures = FIGURES.map(() => new Float64Array(size))
    this.starts = new Int32Array(size + 1)
  }

  add(from: Reckoner, target: number, arcs: readonly number[]): void {
    if (arcs.length > 0) {
      from.figures(target)
      for (let k = 0; k < FIGURES.length; k++) this.figures[k]![this.row] = from.row[k]!
      addBearings(arcs, this.bearings)
    }
    this.starts[++this.row] = this.bearings.length
  }

  columns(): FigureColumns {
    const figures = Object.fromEntries(FIGURES.map((name, k) => [name, this.figures[k]!]))
    return {
      ...(figures as Record<(typeof FIGURES)[number], Float64Array>),
      bearingStarts: this.starts,
      bearings: Float64Array.from(this.bearings),
    }
  }
}
