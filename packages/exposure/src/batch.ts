import type { Position } from '@underbough/model'
import { planeAt } from '@underbough/model'
import type { ZoneOnGround } from './around.ts'
import { type Exposure, exposureOf } from './exposure.ts'
import { type ExposureFlag, type ExposureFlagCode, exposureFlagSentences } from './flags.ts'
import { type HourClass, hourClassesOf } from './occupancy.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import type { FallingTree } from './tree.ts'
import type { ZoneAround } from './zone.ts'

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
      profiles.push(hourClassesOf(zone.occupancy))
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

const bitsOf = (flags: readonly ExposureFlag[]) =>
  flags.reduce((bits, { code }) => bits | (1 << flagCodes.indexOf(code)), 0)

/** The flags whose bits are set. */
export const flagsOfBits = (bits: number): ExposureFlagCode[] =>
  flagCodes.filter((_, place) => bits & (1 << place))

/**
 * Who is under many trees if they fail, each over the zones that `near` names for it (places in the table; those out of
 * reach get zeros): the figures of `exposureOf`, tree by tree, as typed columns.
 */
export function exposureOfMany(
  trees: readonly BatchTree[],
  near: (tree: number) => ArrayLike<number>,
  table: ZoneTable,
  policy: ExposurePolicy = defaultExposurePolicy,
): ExposureTable {
  const counts = trees.map((_, t) => near(t).length)
  const size = counts.reduce((sum, count) => sum + count, 0)
  const pairs = new Rows(size)
  const joints = new Rows(trees.length)
  const tree = new Int32Array(size)
  const zone = new Int32Array(size)
  const groundStem = new Float64Array(size)
  const groundCrown = new Float64Array(size)
  const pairFlags = new Uint32Array(size)
  const reachM = new Float64Array(trees.length)
  const treeFlags = new Uint32Array(trees.length)
  let row = 0
  trees.forEach((one, t) => {
    const places = near(t)
    const got = exposureOf(one.tree, zonesAround(one.position, places, table), policy)
    joints.add(got.joint)
    reachM[t] = got.reachM
    treeFlags[t] = bitsOf([...got.flags, ...got.zones.flatMap((z) => z.flags)])
    got.zones.forEach((figures, i) => {
      pairs.add(figures)
      tree[row] = t
      zone[row] = places[i]!
      groundStem[row] = figures.groundWithin.stem
      groundCrown[row] = figures.groundWithin.crown
      const concerns = got.flags.filter((f) => f.zoneIds.includes(figures.id))
      pairFlags[row++] = bitsOf([...concerns, ...figures.flags])
    })
  })
  return {
    pairs: { ...pairs.columns(), tree, zone, groundStem, groundCrown, flags: pairFlags },
    trees: { ...joints.columns(), reachM, flags: treeFlags },
  }
}

/** The buffers of a table, to be handed over to another thread and not copied. */
export const buffersOf = (table: ExposureTable): ArrayBuffer[] =>
  [...Object.values(table.pairs), ...Object.values(table.trees)].map((column) => column.buffer as ArrayBuffer)

function zonesAround(at: Position, places: ArrayLike<number>, table: ZoneTable): ZoneAround[] {
  const plane = planeAt(at[0], at[1])
  return Array.from(places, (z) => {
    const { groupSize, shelterHeightM, shelterClass, ...zone } = table.zones[z]!
    const polygons: number[][][][] = []
    for (let ring = table.zoneStarts[z]!; ring < table.zoneStarts[z + 1]!; ring++) {
      const corners: number[][] = []
      for (let i = table.ringStarts[ring]!; i < table.ringStarts[ring + 1]!; i++)
        corners.push(plane.toMetres(table.longitude[i]!, table.latitude[i]!))
      const last = polygons[polygons.length - 1]
      if (last && signedArea(openRing(corners)) < 0) last.push(corners)
      else polygons.push([corners])
    }
    const shelter = shelterHeightM && shelterClass ? { heightM: shelterHeightM, class: shelterClass } : null
    const hours = table.profiles[table.profileOf[z]!]!
    return { ...zone, polygons, hours, groupSize: groupSize ?? 1, shelter }
  })
}

const NAMES = [
  'touchMean',
  'touchLeast',
  'touchMost',
  'peopleMean',
  'peopleLeast',
  'peopleMost',
  'peopleStem',
  'peopleCrown',
  'peopleScatter',
  'anyMean',
  'anyLeast',
  'anyMost',
] as const

/** Figures gathered row by row. */
class Rows {
  private readonly figures: Float64Array[]
  private readonly starts: Int32Array
  private readonly bearings: number[] = []
  private row = 0

  constructor(size: number) {
    this.figures = NAMES.map(() => new Float64Array(size))
    this.starts = new Int32Array(size + 1)
  }

  add({ pTouch, people, pAny, pAnyRange, touchingBearings }: Exposure): void {
    const values = [
      pTouch.mean,
      pTouch.least,
      pTouch.most,
      people.mean,
      people.least,
      people.most,
      people.stem,
      people.crown,
      people.scatter,
      pAny,
      pAnyRange.least,
      pAnyRange.most,
    ]
    values.forEach((value, k) => {
      this.figures[k]![this.row] = value
    })
    for (const { fromDeg, toDeg } of touchingBearings) this.bearings.push(fromDeg, toDeg)
    this.starts[++this.row] = this.bearings.length
  }

  columns(): FigureColumns {
    const figures = Object.fromEntries(NAMES.map((name, k) => [name, this.figures[k]!]))
    return {
      ...(figures as Record<(typeof NAMES)[number], Float64Array>),
      bearingStarts: this.starts,
      bearings: Float64Array.from(this.bearings),
    }
  }
}
