import { hash } from 'node:crypto'
import {
  type ExposurePolicy,
  exposureMethodVersion,
  type FallingTree,
  fallingTreeOn,
  searchM,
  type ZoneOnGround,
} from '@underbough/exposure'
import type { AreaGeometry, Position, Tree, Zone } from '@underbough/model'
import type { Box } from './queries.ts'

/** A tree's record as `readTrees` hands it over. */
type TreeFacts = [
  id: string,
  longitude: number,
  latitude: number,
  status: Tree['status'],
  heightM: number | null,
  stems: Tree['stems'],
  crownBaseHeightM: number | null,
  crownRadiiM: Tree['crownRadiiM'],
  lean: Tree['lean'],
  clearingBearingDeg: number | null,
  slope: Tree['slope'],
  deadOrBrittle: boolean,
  siteId: string | null,
  storedDigest: string | null,
]
/** A zone's record as `readZones` hands it over; the outline as hexadecimal well-known binary. */
type ZoneFacts = [
  id: string,
  outline: string,
  areaM2: number,
  staticTarget: boolean,
  shelterHeightM: number | null,
  shelterClass: Zone['shelterClass'],
  partOf: string | null,
  groupSize: number | null,
  occupancy: Zone['occupancy'],
  seasons: Zone['seasons'],
]

/** What holds for all trees of one reckoning. */
export interface Assumed {
  roses: Record<string, number[]>
  edition: number
  policy: ExposurePolicy
}

/** A tree as it would fall, and where its zones are looked for; `falling` is null where nothing could fall. */
export interface TreeRead {
  id: string
  position: Position
  falling: FallingTree | null
  box: Box | null
  /** All that its figures follow from but for the zones. */
  facts: string
  storedDigest: string | null
}

/** A tree with what its new figures are written with. */
export interface TreeReckoned extends TreeRead {
  digest: string
}

export function treesFrom(rows: string, { roses, policy, edition }: Assumed): TreeRead[] {
  return (JSON.parse(rows) as TreeFacts[]).map((row) => {
    const [id, longitude, latitude, status, heightM, stems, crownBaseHeightM, crownRadiiM, lean] = row
    const [, , , , , , , , , clearingBearingDeg, slope, deadOrBrittle, siteId, storedDigest] = row
    const rose = (siteId && roses[siteId]) || null
    const tree = {
      status,
      heightM,
      stems,
      crownBaseHeightM,
      crownRadiiM,
      lean,
      clearingBearingDeg,
      slope,
      deadOrBrittle,
    }
    const falling = fallingTreeOn(tree, rose)
    const position: Position = [longitude, latitude]
    return {
      id,
      position,
      falling,
      box: falling && boxAround(position, searchM(falling, policy)),
      facts: JSON.stringify([exposureMethodVersion, edition, position, tree, rose]),
      storedDigest,
    }
  })
}

/** Less than the metres of a degree anywhere on the ellipsoid, so that no zone within reach is left out. */
const LEAST_M_PER_DEGREE = 110_500

/** Not for use within a degree of a pole or across the date line. */
function boxAround([longitude, latitude]: Position, withinM: number): Box {
  const north = (withinM / LEAST_M_PER_DEGREE) * 1.01
  const east = north / Math.cos((latitude * Math.PI) / 180)
  return [longitude - east, latitude - north, longitude + east, latitude + north]
}

export interface ZoneRead extends ZoneOnGround {
  box: Box
  digest: string
}

export function zonesFrom(rows: string): ZoneRead[] {
  return (JSON.parse(rows) as ZoneFacts[]).map((row) => {
    const [id, outline, areaM2, staticTarget, shelterHeightM, shelterClass, partOf, groupSize] = row
    const geometry = areaFrom(Buffer.from(outline, 'hex'))
    return {
      id,
      geometry,
      areaM2,
      staticTarget,
      shelterHeightM,
      shelterClass,
      partOf,
      groupSize,
      occupancy: row[8],
      seasons: row[9],
      box: boxOf(geometry),
      digest: hash('sha256', JSON.stringify(row), 'hex'),
    }
  })
}

/** One digest of all that the figures of a tree over these zones follow from: 128 bits, as an identifier is written. */
export function inputsDigest(tree: TreeRead, zones: readonly ZoneRead[]): string {
  const of = hash('sha256', tree.facts + zones.map(({ digest }) => digest).join(), 'hex')
  return `${of.slice(0, 8)}-${of.slice(8, 12)}-${of.slice(12, 16)}-${of.slice(16, 20)}-${of.slice(20, 32)}`
}

/** For each tree, the places in `zones` of those that meet its box. */
export function zonesNear(trees: readonly TreeRead[], zones: readonly ZoneRead[]): number[][] {
  const edges = Float64Array.from(zones.flatMap(({ box }) => box))
  return trees.map(({ box }) => {
    const near: number[] = []
    if (!box) return near
    const [west, south, east, north] = box
    for (let z = 0, at = 0; z < zones.length; z++, at += 4)
      if (edges[at]! <= east && edges[at + 2]! >= west && edges[at + 1]! <= north && edges[at + 3]! >= south)
        near.push(z)
    return near
  })
}

/** The smallest box about all of them; null where there is none. */
export function boxAbout(boxes: readonly Box[]): Box | null {
  if (boxes.length === 0) return null
  const all: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const [west, south, east, north] of boxes) {
    all[0] = Math.min(all[0], west)
    all[1] = Math.min(all[1], south)
    all[2] = Math.max(all[2], east)
    all[3] = Math.max(all[3], north)
  }
  return all
}

function boxOf(geometry: AreaGeometry): Box {
  const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates
  const corners = polygons.flatMap((rings) => rings[0] ?? [])
  return boxAbout(corners.map(([lon, lat]) => [lon, lat, lon, lat] as const)) ?? [0, 0, 0, 0]
}

/** Nine decimals, a tenth of a millimetre: what a phone is sent, so that both reckon from the same corners. */
const nanodegrees = (degrees: number) => Math.round(degrees * 1e9) / 1e9

/** A polygon or several from well-known binary (OGC 06-103r4, section 8.2), as the database writes it: little-endian, two axes. */
function areaFrom(bytes: Buffer): AreaGeometry {
  let at = 5
  const count = () => {
    at += 4
    return bytes.readUInt32LE(at - 4)
  }
  const polygon = () =>
    Array.from({ length: count() }, () =>
      Array.from({ length: count() }, (): Position => {
        at += 16
        return [nanodegrees(bytes.readDoubleLE(at - 16)), nanodegrees(bytes.readDoubleLE(at - 8))]
      }),
    )
  const SEVERAL = 6
  if (bytes.readUInt32LE(1) !== SEVERAL) return { type: 'Polygon', coordinates: polygon() }
  const coordinates = Array.from({ length: count() }, () => {
    at += 5
    return polygon()
  })
  return { type: 'MultiPolygon', coordinates }
}
