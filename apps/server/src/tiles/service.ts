import { createHash } from 'node:crypto'
import { type Organisation, today } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { encodeTile, type Feature, shapeFeature } from './encode.ts'
import { around, CHANGES_ZOOM, EXTENT, parentOf, placesOf, type Tile, tileBounds, unitsOf } from './grid.ts'
import { canonical, isOpen, type Narrowing } from './narrowing.ts'
import {
  type Asked,
  type Bounds,
  changesOf,
  type Days,
  extentOf,
  groundIn,
  moreThan,
  type Shape,
  siteBounds,
  siteTimeZones,
  statusOfLook,
  type TreeMark,
  treeCells,
  treeMarks,
  type Watched,
  worstMarks,
  zonesIn,
} from './queries.ts'

/** Below this zoom a tile holds counts by cell, above it trees. */
const CELLS_BELOW = 12
/** From this zoom every tree is on its tile, however many: the client's tiles end here. */
const ALL_FROM = 16
/** A cell of counts is a tile of so many zooms more: 64 pixels wide on the screen. */
const CELL_ZOOMS = 3
/** A tile with more trees than this keeps the worst of each square, 16 pixels wide. */
const CROWDED_OVER = 4000
/** Lines and areas reach this far beyond their tile, so that strokes meet across its edge. */
const MARGIN_UNITS = 128
/** Below this zoom, what is smaller than `LEAST_UNITS` of the tile's 4096 is left out, */
const WHOLE_FROM = 15
const LEAST_UNITS = 8
/** and zones that cover less than this on the screen, or that come after so many larger ones. */
const LEAST_SQUARE_PIXELS = 16
const MOST_ZONES = 1500
const TILE_PIXELS = 512
const METRES_A_DEGREE = 111_320
const WORLD: Bounds = [-180, -60, 180, 75]
const PAD_DEG = 0.002

export type Layer = 'trees' | 'ground'
const everywhere: Tile = { z: 0, x: 0, y: 0 }

/** How often what a tile shows has changed, and the days that now are at its organisation's sites. */
async function standOf(deps: Deps, person: Person, layer: Layer, tile: Tile) {
  const { organisation } = person
  const { n, whole, zones } = await changesOf(deps.database.db, organisation.id, watched(layer, tile))
  const days = daysAt(deps.now(), organisation, zones)
  return {
    days,
    version: layer === 'trees' ? `${whole}.${n}-${digest(JSON.stringify(days))}` : `${whole}.${n}`,
  }
}

/** The days that now are at an organisation and at those of its sites where it is another. */
export const daysOf = async (deps: Deps, organisation: Organisation): Promise<Days> =>
  daysAt(deps.now(), organisation, await siteTimeZones(deps.database.db, organisation.id))

function daysAt(now: Date, { timeZone }: Organisation, sites: { id: string; zone: string }[]): Days {
  const day = today(timeZone, now)
  const elsewhere = sites
    .map((site) => ({ siteId: site.id, day: today(site.zone, now) }))
    .filter((site) => site.day !== day)
  return { day, elsewhere }
}

/** Trees lie on one tile only; of the ground a neighbour's change may reach over the edge. */
function watched(layer: Layer, asked: Tile): Watched {
  const tile = parentOf(asked, CHANGES_ZOOM)
  if (layer === 'trees') return { layer, ranges: [placesOf(tile)], holding: [] }
  const tiles = around(tile)
  const holding = Array.from({ length: tile.z }, (_, zoom) =>
    tiles.map((near): [number, bigint] => [zoom, placesOf(parentOf(near, zoom))[0]]),
  ).flat()
  const unlike = [...new Map(holding.map((cell) => [cell.join(), cell])).values()]
  return { layer, ranges: tiles.map(placesOf), holding: unlike }
}

/** Versions of the whole map: they rise with each change, and at midnight of any site, when trees become overdue. */
export async function tilesVersion(deps: Deps, person: Person): Promise<{ trees: string; ground: string }> {
  const [trees, ground] = [
    await standOf(deps, person, 'trees', everywhere),
    await standOf(deps, person, 'ground', everywhere),
  ]
  return { trees: trees.version, ground: ground.version }
}

const digest = (text: string) => createHash('sha256').update(text).digest('hex').slice(0, 12)

/** One tile as it stands: a name for its content, which a browser may hold already, and how to make it. */
export interface Standing {
  etag: string
  make(): Promise<Uint8Array>
}

export async function standingTile(
  deps: Deps,
  person: Person,
  layer: Layer,
  tile: Tile,
  narrowing: Narrowing = {},
): Promise<Standing> {
  checkTile(tile)
  const { days, version } = await standOf(deps, person, layer, tile)
  const name = digest(
    `${person.organisation.id}/${layer}/${tile.z}/${tile.x}/${tile.y}/${canonical(narrowing)}`,
  )
  return {
    // Weak, because the same tile goes out packed and unpacked.
    etag: `W/"${name}-${version}"`,
    make: () =>
      layer === 'trees'
        ? treesTile(deps, tile, {
            organisationId: person.organisation.id,
            zoom: tile.z,
            places: placesOf(tile),
            narrowing,
            days,
          })
        : groundTile(deps, person, tile),
  }
}

/** Whether a list of entity tags, as a browser sends it, names this one (RFC 9110, sections 8.8.3.2 and 13.1.2: weak comparison). */
export function names(ifNoneMatch: string | undefined, etag: string): boolean {
  if (!ifNoneMatch) return false
  if (ifNoneMatch.trim() === '*') return true
  const opaque = (tag: string) => tag.replace(/^W\//, '')
  return (ifNoneMatch.match(/(?:W\/)?"[^"]*"/g) ?? []).some((tag) => opaque(tag) === opaque(etag))
}

export function checkTile({ z, x, y }: Tile) {
  if (z > 22 || x >= 2 ** z || y >= 2 ** z)
    refuse('out-of-range', 'z', `There is no tile ${z}/${x}/${y}.`, { limit: 'zoom at most 22' })
}

/**
 * Layer `cells` below zoom 12. From there on layer `trees` with those that pass, and where the view is narrowed layer
 * `others` with the rest. A crowded tile of zoom 12 to 15 holds the worst tree of each square, and the worst of the rest
 * where none passes; its trees say `thin`.
 */
async function treesTile({ database: { db } }: Deps, tile: Tile, asked: Asked): Promise<Uint8Array> {
  if (tile.z < CELLS_BELOW) {
    const cells = await treeCells(db, asked, tile.z + CELL_ZOOMS)
    return encodeTile({
      cells: cells.map(({ x, y, ...counts }) => ({
        type: 1,
        geometry: [unitsOf(tile, x, y)],
        tags: { ...counts },
      })),
    })
  }
  const narrowed = !isOpen(asked.narrowing)
  const thin = tile.z < ALL_FROM && (await moreThan(db, asked, CROWDED_OVER))
  // On its last tiles the client narrows by itself.
  const whole = tile.z >= ALL_FROM
  const layer = (marks: TreeMark[]) => marks.map((mark) => markFeature(mark, thin))
  if (!thin)
    return encodeTile({
      others: narrowed ? layer(await treeMarks(db, asked, whole, true)) : [],
      trees: layer(await treeMarks(db, asked, whole)),
    })
  const trees = await worstMarks(db, asked)
  const taken = new Set(trees.map((mark) => mark.square))
  const worst = narrowed ? await worstMarks(db, { ...asked, narrowing: {} }) : []
  return encodeTile({
    others: layer(worst.filter((mark) => !taken.has(mark.square))),
    trees: layer(trees),
  })
}

function markFeature({ id, tag, at, look, due, names, site }: TreeMark, thin: boolean): Feature {
  const tags: Feature['tags'] = {
    id,
    tag,
    status: statusOfLook[look >> 6]!,
    risk: look & 7,
    overdue: (look >> 3) & 1,
    seen: (look >> 4) & 1,
    open: (look >> 5) & 1,
  }
  if (due !== null) {
    tags.due = due
    // Day 0, 1 January 1970, was a Thursday.
    tags.week = due - ((((due + 3) % 7) + 7) % 7)
  }
  if (thin) tags.thin = 1
  if (names !== undefined) tags.names = names
  if (site) tags.site = site
  return { type: 1, geometry: [[at >> 12, at & 4095]], tags }
}

async function groundTile({ database: { db } }: Deps, person: Person, tile: Tile): Promise<Uint8Array> {
  const { id } = person.organisation
  const bounds = tileBounds(tile, MARGIN_UNITS)
  const [, south, , north] = bounds
  const tileDeg = 360 / 2 ** tile.z
  const pixelM = (tileDeg / TILE_PIXELS) * METRES_A_DEGREE * Math.cos((((south + north) / 2) * Math.PI) / 180)
  const leastDeg = tile.z < WHOLE_FROM ? (tileDeg / EXTENT) * LEAST_UNITS : 0
  const thin =
    tile.z < WHOLE_FROM ? { leastM2: LEAST_SQUARE_PIXELS * pixelM ** 2, leastDeg, most: MOST_ZONES } : null
  const layer = (shapes: Shape[]) =>
    shapes.map((shape) => asFeature(tile, shape)).filter((feature) => feature !== null)
  return encodeTile({
    ground: layer(await groundIn(db, id, bounds, leastDeg)),
    zones: layer(await zonesIn(db, id, bounds, thin)),
  })
}

const asFeature = (tile: Tile, { drawn, id, name, kind }: Shape) =>
  shapeFeature(tile, drawn, { id, kind, ...(name === null ? {} : { name }) })

/** Where the map opens: everything the organisation has. */
export async function mapView(deps: Deps, person: Person) {
  const { db } = deps.database
  const extent = await extentOf(db, person.organisation.id)
  const padded = extent && pad(extent)
  return {
    bounds: padded ?? WORLD,
    sites: await siteBounds(db, person.organisation.id),
    tilesVersion: await tilesVersion(deps, person),
    today: today(person.organisation.timeZone, deps.now()),
  }
}

const pad = ([west, south, east, north]: Bounds): Bounds => [
  Math.max(-180, west - PAD_DEG),
  Math.max(-85, south - PAD_DEG),
  Math.min(180, east + PAD_DEG),
  Math.min(85, north + PAD_DEG),
]
