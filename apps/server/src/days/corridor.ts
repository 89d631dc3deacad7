import { type Position, planeAt } from '@underbough/model'
import { type Tile, tileUnits } from '../tiles/grid.ts'

/** Steps along the way; each is widened by half of it, so that no place between two steps is missed. */
const STEP_M = 150
/** A zoom of an overview with more tiles than this is left out: it would be no overview of one day any more. */
const MOST_OF_ZOOM = 64
const UNITS = 4096

type Bounds = readonly [west: number, south: number, east: number, north: number]

/** Tiles of one zoom that a box meets. */
export function tilesOver([west, south, east, north]: Bounds, zoom: number): Tile[] {
  const whole = { z: zoom, x: 0, y: 0 }
  const [left, top] = tileUnits(whole, [west, north])
  const [right, bottom] = tileUnits(whole, [east, south])
  const last = 2 ** zoom - 1
  const at = (units: number) => Math.max(0, Math.min(last, Math.floor(units / UNITS)))
  const tiles: Tile[] = []
  for (let x = at(left); x <= at(right); x++)
    for (let y = at(top); y <= at(bottom); y++) tiles.push({ z: zoom, x, y })
  return tiles
}

/** Tiles of each zoom over a box, the widest first; a zoom that would take more than 64 is left out. */
export function overviewTiles(bounds: Bounds, fromZoom: number, toZoom: number): Tile[] {
  const tiles: Tile[] = []
  for (let zoom = fromZoom; zoom <= toZoom; zoom++) {
    const more = tilesOver(bounds, zoom)
    if (more.length <= MOST_OF_ZOOM) tiles.push(...more)
  }
  return tiles
}

/** Every tile, of each zoom, that lies within `bufferM` of a way, straight from place to place; a few more at its corners. */
export function corridorTiles(
  way: readonly Position[],
  bufferM: number,
  fromZoom: number,
  toZoom: number,
): Tile[] {
  const boxes = steps(way).map((place) => boxAround(place, bufferM + STEP_M / 2))
  const tiles = new Map<string, Tile>()
  for (let zoom = fromZoom; zoom <= toZoom; zoom++)
    for (const box of boxes)
      for (const tile of tilesOver(box, zoom)) tiles.set(`${tile.z}/${tile.x}/${tile.y}`, tile)
  return [...tiles.values()]
}

function steps(way: readonly Position[]): Position[] {
  const places: Position[] = []
  for (const [i, to] of way.entries()) {
    const from = way[i - 1]
    if (from) {
      const [east, north] = planeAt(from[0], from[1]).toMetres(to[0], to[1])
      const count = Math.ceil(Math.hypot(east, north) / STEP_M)
      for (let n = 1; n < count; n++)
        places.push([from[0] + ((to[0] - from[0]) * n) / count, from[1] + ((to[1] - from[1]) * n) / count])
    }
    places.push(to)
  }
  return places
}

function boxAround([longitude, latitude]: Position, m: number): Bounds {
  const plane = planeAt(longitude, latitude)
  const [west, south] = plane.toDegrees(-m, -m)
  const [east, north] = plane.toDegrees(m, m)
  // North and south the parallels differ in length; the wider one counts.
  const [westToo] = plane.toDegrees(-m, m)
  const [eastToo] = plane.toDegrees(m, -m)
  return [Math.min(west, westToo), south, Math.max(east, eastToo), north]
}

/** The box around places, or null where there are none. */
export function boxOf(places: readonly Position[]): Bounds | null {
  if (places.length === 0) return null
  const lons = places.map(([lon]) => lon)
  const lats = places.map(([, lat]) => lat)
  return [Math.min(...lons), Math.min(...lats), Math.max(...lons), Math.max(...lats)]
}
