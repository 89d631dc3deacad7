import { z } from '@hono/zod-openapi'
import type { Position } from '@underbough/model'
import type { Tile } from '../tiles/grid.ts'
import { boxOf, corridorTiles, overviewTiles } from './corridor.ts'
import type { PhotoOfTree } from './queries.ts'

/** One thing to fetch ahead. */
export const packFile = z.object({
  at: z.string().describe('its address'),
  bytes: z.int().describe('its size: exact for photos, else about'),
  part: z.enum(['day', 'trees', 'map', 'photos']),
  treeId: z.uuid().nullable(),
})
export type PackFile = z.infer<typeof packFile>

/** Far enough to step aside from the way and still stand on the map. */
export const CORRIDOR_M = 300
const OVERVIEW_ZOOMS = [4, 11] as const
/** Where the client's sources end (apps/web/src/map): beyond, tiles are drawn larger. */
const LAST_ZOOM = { ground: 15, trees: 16 } as const
/** Zones of a day that can be walked over without signal. */
export const MOST_ZONES = 60
const PHOTOS_OF_TREE = 6
/** A photo without a smaller copy for screens is taken along up to this size. */
const MOST_PHOTO_BYTES = 2_000_000

// Sizes met on the demo island, unpacked; a pack's line shows what has come in their place as it comes.
const about = {
  day: 4000,
  stop: 900,
  zone: 1500,
  oneZone: 5000,
  treeAlong: 240,
  sites: 28_000,
  tree: 11_000,
  exposure: 18_000,
  zones: 9000,
  probes: 1700,
  treesTile: 20_000,
  groundTile: 16_000,
} as const

const file = (part: PackFile['part'], at: string, bytes: number, treeId: string | null = null): PackFile => ({
  at: `/api${at}`,
  bytes,
  part,
  treeId,
})

/** What a phone asks for on a day, beside its trees. */
export function dayFiles(date: string, stops: number, zones: number, treesAlong: number): PackFile[] {
  return [
    file('day', `/today?date=${date}`, about.day + stops * about.stop),
    file('day', '/zones', about.day + zones * about.zone),
    ...['/map/view', '/tiles/version', '/policy', '/exposure-policy', '/crews'].map((at) =>
      file('day', at, about.day),
    ),
    file('day', '/sites', about.sites),
    file('day', `/days/${date}/trees`, about.day + treesAlong * about.treeAlong),
  ]
}

/** Zones to be walked over, each with the trees over it. */
export const zoneFiles = (zoneIds: readonly string[]): PackFile[] =>
  zoneIds.map((id) => file('day', `/zones/${id}`, about.oneZone))

/** What a visit to a tree begins from. */
export function treeFiles(treeId: string): PackFile[] {
  return [
    file('trees', `/trees/${treeId}`, about.tree, treeId),
    file('trees', `/trees/${treeId}/exposure`, about.exposure, treeId),
    file('trees', `/trees/${treeId}/zones`, about.zones, treeId),
    file('trees', `/trees/${treeId}/probes`, about.probes, treeId),
  ]
}

/** The newest photos of each tree, as the client shows them: originals by their copy for screens, and copies with marks. */
export function photoFiles(photos: readonly PhotoOfTree[]): PackFile[] {
  const screenOf = new Map(photos.filter((p) => p.copyKind === 'screen').map((p) => [p.copyOf, p]))
  const taken = new Map<string, number>()
  return photos.flatMap((photo) => {
    if (photo.copyKind === 'screen') return []
    const { bytes } = screenOf.get(photo.id) ?? photo
    const before = taken.get(photo.treeId) ?? 0
    if (bytes > MOST_PHOTO_BYTES || before >= PHOTOS_OF_TREE) return []
    taken.set(photo.treeId, before + 1)
    return [file('photos', `/photos/${photo.id}${photo.copyKind ? '' : '?copy=screen'}`, bytes, photo.treeId)]
  })
}

/** The map along a way, and the whole ground from afar. */
export function mapFiles(
  way: readonly Position[],
  ground: readonly [number, number, number, number],
  version: { trees: string; ground: string },
): PackFile[] {
  const layer = (name: 'ground' | 'trees', bytes: number) =>
    unique([
      ...overviewTiles(ground, ...OVERVIEW_ZOOMS),
      ...overviewTiles(boxOf(way) ?? ground, ...OVERVIEW_ZOOMS),
      ...corridorTiles(way, CORRIDOR_M, OVERVIEW_ZOOMS[1] + 1, LAST_ZOOM[name]),
    ]).map((tile) =>
      file('map', `/tiles/${name}/${path(tile)}.mvt?v=${encodeURIComponent(version[name])}`, bytes),
    )
  return [...layer('ground', about.groundTile), ...layer('trees', about.treesTile)]
}
const path = ({ z: zoom, x, y }: Tile) => `${zoom}/${x}/${y}`
const unique = (tiles: Tile[]) => [...new Map(tiles.map((tile) => [path(tile), tile])).values()]
