import { fromGeojsonVt } from '@maplibre/vt-pbf'
import type { GroundGeometry, Position } from '@underbough/model'
import { EXTENT, type Tile, tileUnits } from './grid.ts'

type Properties = Record<string, string | number>
type Ring = [number, number][]
export type Feature =
  | { type: 1; geometry: Ring; tags: Properties }
  | { type: 2 | 3; geometry: Ring[]; tags: Properties }

/** A tile of named layers, in version 2 of the vector tile format. Empty layers are left out. */
export function encodeTile(layers: Record<string, Feature[]>): Uint8Array {
  const filled = Object.entries(layers).filter(([, features]) => features.length > 0)
  const given = Object.fromEntries(filled.map(([name, features]) => [name, { features }]))
  return fromGeojsonVt(given as unknown as Parameters<typeof fromGeojsonVt>[0], {
    version: 2,
    extent: EXTENT,
  })
}

/** A point, or null where it belongs to a neighbour: each place lies on one tile only. */
export function pointFeature(tile: Tile, position: Position, tags: Properties): Feature | null {
  const [x, y] = tileUnits(tile, position).map(Math.floor) as [number, number]
  return x < 0 || y < 0 || x >= EXTENT || y >= EXTENT ? null : { type: 1, geometry: [[x, y]], tags }
}

/** A line or an area already cut to the tile; null when nothing of it is left at this scale. */
export function shapeFeature(tile: Tile, geometry: GroundGeometry, tags: Properties): Feature | null {
  const area = geometry.type === 'Polygon' || geometry.type === 'MultiPolygon'
  const rings = area ? areaRings(tile, geometry) : lines(tile, geometry)
  return rings.length === 0 ? null : { type: area ? 3 : 2, geometry: rings, tags }
}

function lines(tile: Tile, geometry: GroundGeometry): Ring[] {
  const parts =
    geometry.type === 'LineString' ? [geometry.coordinates] : (geometry.coordinates as Position[][])
  return parts.map((part) => quantised(tile, part)).filter((line) => line.length > 1)
}

/** Outer rings turn clockwise on the screen and holes the other way, as the format asks. A part whose outer ring vanishes takes its holes along. */
function areaRings(tile: Tile, geometry: GroundGeometry): Ring[] {
  const polygons =
    geometry.type === 'Polygon' ? [geometry.coordinates] : (geometry.coordinates as Position[][][])
  return polygons.flatMap((polygon) => {
    const rings = polygon.map((ring) => quantised(tile, ring))
    if (twiceArea(rings[0]!) === 0) return []
    return rings.flatMap((ring, i) => {
      const turn = twiceArea(ring)
      return turn === 0 ? [] : [turn > 0 === (i === 0) ? ring : ring.reverse()]
    })
  })
}

/** Whole units, without points that fell together. */
function quantised(tile: Tile, positions: Position[]): Ring {
  const out: Ring = []
  for (const position of positions) {
    const [x, y] = tileUnits(tile, position).map(Math.round) as [number, number]
    const last = out.at(-1)
    if (!last || last[0] !== x || last[1] !== y) out.push([x, y])
  }
  return out
}

/** Positive for a ring that turns clockwise on a screen, whose rows run down. */
function twiceArea(ring: Ring): number {
  let sum = 0
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++)
    sum += ring[j]![0] * ring[i]![1] - ring[i]![0] * ring[j]![1]
  return sum
}
