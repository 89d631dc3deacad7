import { createHash } from 'node:crypto'
import { civilDate, dayNumber, mondayOf, today } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { encodeTile, type Feature, pointFeature, shapeFeature } from './encode.ts'
import { type Tile, tileBounds } from './grid.ts'
import {
  extentOf,
  type Place,
  type Shape,
  shapesIn,
  siteBounds,
  siteTimeZones,
  type TreeMark,
  treeCells,
  treeMarks,
  worstMarks,
} from './queries.ts'
import { mapVersions } from './versions.ts'

/** Below this zoom a tile holds counts by cell, above it trees. */
const CELLS_BELOW = 12
/** From this zoom every tree is on its tile, however many. */
const ALL_FROM = 15
/** Cells along the side of a tile of counts: one is 64 pixels wide on the screen. */
const COUNT_CELLS = 8
/** A tile with more trees than this keeps the worst of each small cell. */
const THIN_OVER = 6000
const THIN_CELLS = 96
/** Lines and areas reach this far beyond their tile, so that strokes meet across its edge. */
const MARGIN_UNITS = 128
/** Below this zoom, what is smaller than `LEAST_UNITS` of the tile's 4096 is left out. */
const WHOLE_FROM = 15
const LEAST_UNITS = 8
const WORLD: Place['bounds'] = [-180, -60, 180, 75]
const PAD_DEG = 0.002

/** The addresses' version: it changes with the records, and at midnight of any site, when trees become overdue. */
export async function tilesVersion(deps: Deps, person: Person): Promise<{ trees: string; ground: string }> {
  const { id, timeZone } = person.organisation
  const { trees, ground } = await mapVersions(deps.database.db, id)
  const zones = new Set([timeZone, ...(await siteTimeZones(deps.database.db, id))])
  const days = [...zones].map((zone) => today(zone, deps.now()))
  return { trees: `${trees}-${digest(days.join())}`, ground: `${ground}` }
}

const digest = (text: string) => createHash('sha256').update(text).digest('hex').slice(0, 8)

/** A name for the bytes of one tile, for the browser to ask whether it still holds. */
export const entityTag = (person: Person, tile: Tile, layer: string, version: string) =>
  `"${digest(`${person.organisation.id}/${layer}/${tile.z}/${tile.x}/${tile.y}`)}-${version}"`

export function checkTile({ z, x, y }: Tile) {
  if (z > 22 || x >= 2 ** z || y >= 2 ** z)
    refuse('out-of-range', 'z', `There is no tile ${z}/${x}/${y}.`, { limit: 'zoom at most 22' })
}

export async function treesTile(deps: Deps, person: Person, tile: Tile): Promise<Uint8Array> {
  const { db } = deps.database
  const { id: organisationId, timeZone } = person.organisation
  const place: Place = { organisationId, bounds: tileBounds(tile), now: deps.now(), timeZone }
  if (tile.z < CELLS_BELOW) {
    const cells = await treeCells(db, place, COUNT_CELLS)
    const features = cells.map(({ lon, lat, ...counts }) => pointFeature(tile, [lon, lat], { ...counts }))
    return encodeTile({ cells: present(features) })
  }
  const thin = tile.z < ALL_FROM
  let marks = await treeMarks(db, place, thin ? THIN_OVER + 1 : 1e6)
  if (thin && marks.length > THIN_OVER) marks = await worstMarks(db, place, THIN_CELLS)
  return encodeTile({ trees: present(marks.map((mark) => markFeature(tile, mark))) })
}

function markFeature(tile: Tile, { lon, lat, due, ...mark }: TreeMark): Feature | null {
  const dates: Record<string, number> = due === null ? {} : { due, week: dayNumber(mondayOf(civilDate(due))) }
  return pointFeature(tile, [lon, lat], { ...mark, ...dates })
}

export async function groundTile(deps: Deps, person: Person, tile: Tile): Promise<Uint8Array> {
  const { db } = deps.database
  const bounds = tileBounds(tile, MARGIN_UNITS)
  const leastDeg = tile.z < WHOLE_FROM ? (360 / 2 ** tile.z / 4096) * LEAST_UNITS : 0
  const layer = async (table: 'ground' | 'zones') => {
    const shapes = await shapesIn(db, table, person.organisation.id, bounds, leastDeg)
    return present(shapes.map((shape) => asFeature(tile, shape)))
  }
  return encodeTile({ ground: await layer('ground'), zones: await layer('zones') })
}

const asFeature = (tile: Tile, { geometry, id, name, kind }: Shape) =>
  shapeFeature(tile, geometry, { id, kind, ...(name === null ? {} : { name }) })
const present = (features: (Feature | null)[]) => features.filter((feature) => feature !== null)

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

const pad = ([west, south, east, north]: Place['bounds']): Place['bounds'] => [
  Math.max(-180, west - PAD_DEG),
  Math.max(-85, south - PAD_DEG),
  Math.min(180, east + PAD_DEG),
  Math.min(85, north + PAD_DEG),
]
