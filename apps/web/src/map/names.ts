import type { FeatureCollection, Geometry, Position } from 'geojson'
import { boundsOf, contains } from './area.ts'

interface Named {
  kind: string
  name: string | null
}

/** Names of the ground to write on the map: one point for each area, the line itself for each way. */
export function nameFeatures(ground: FeatureCollection<Geometry, Named>): FeatureCollection {
  const features = ground.features.flatMap((feature): FeatureCollection['features'] => {
    const { kind, name } = feature.properties
    if (!name || !['water', 'green', 'road', 'path'].includes(kind)) return []
    const properties = { what: kind, name }
    const { geometry } = feature
    if (geometry.type === 'LineString' || geometry.type === 'MultiLineString')
      return [{ type: 'Feature', properties, geometry }]
    const place = kind === 'water' || kind === 'green' ? middle(geometry) : null
    return place ? [{ type: 'Feature', properties, geometry: { type: 'Point', coordinates: place } }] : []
  })
  return { type: 'FeatureCollection', features }
}

/** A point well inside an area: of a grid over its box, the one farthest from the edge. */
function middle(geometry: Geometry): Position | null {
  const box = boundsOf(geometry)
  const rings =
    geometry.type === 'Polygon'
      ? [geometry.coordinates]
      : geometry.type === 'MultiPolygon'
        ? geometry.coordinates
        : []
  if (!box) return null
  let best: Position | null = null
  let most = -1
  for (const coordinates of rings)
    for (let i = 1; i < 16; i++)
      for (let j = 1; j < 16; j++) {
        const place: [number, number] = [
          box[0] + ((box[2] - box[0]) * i) / 16,
          box[1] + ((box[3] - box[1]) * j) / 16,
        ]
        if (!contains({ type: 'Polygon', coordinates }, place)) continue
        const room = Math.min(...coordinates[0]!.map(([x, y]) => (x! - place[0]) ** 2 + (y! - place[1]) ** 2))
        if (room > most) {
          most = room
          best = place
        }
      }
  return best
}
