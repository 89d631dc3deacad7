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

/**
 * Where water lines run: outside the land, and inside ponds. The sea's own outline is not used where land is drawn,
 * since an area with islands is often cut into parts whose cuts are no shore.
 */
export function shores(ground: FeatureCollection<Geometry, Named>): {
  coast: FeatureCollection['features']
  ponds: FeatureCollection['features']
} {
  const land = ground.features.filter((f) => f.properties.kind === 'land')
  const water = ground.features.filter((f) => f.properties.kind === 'water')
  if (land.length === 0) return { coast: [], ponds: water }
  const onLand = (geometry: Geometry) => {
    const ring = outerRing(geometry)
    return land.some(
      ({ geometry: l }) =>
        l.type === 'Polygon' && ring.length > 0 && ring.every((place) => contains(l, place)),
    )
  }
  const coast = land.map((f) => ({ ...f, properties: { ...f.properties, small: isSmall(f.geometry) } }))
  return { coast, ponds: water.filter((f) => onLand(f.geometry)) }
}

/** Rocks and moles: round them water lines would only tangle. About 200 m across. */
function isSmall(geometry: Geometry): boolean {
  const box = boundsOf(geometry)
  return !box || Math.max(box[2] - box[0], box[3] - box[1]) < 0.002
}

const namedZones = ['play', 'seating', 'parking', 'building']
/** One name for each zone, in the largest of the pieces that tiles cut it into. */
export function zoneNameFeatures(
  pieces: readonly { id: string; kind: string; name: string; geometry: Geometry }[],
): FeatureCollection['features'] {
  const largest = new Map<string, (typeof pieces)[number] & { size: number }>()
  for (const piece of pieces) {
    const box = boundsOf(piece.geometry)
    if (!box || !piece.name || !namedZones.includes(piece.kind)) continue
    const size = (box[2] - box[0]) * (box[3] - box[1])
    if (size > (largest.get(piece.id)?.size ?? 0)) largest.set(piece.id, { ...piece, size })
  }
  return [...largest.values()].flatMap(({ name, geometry }) => {
    const place = middle(geometry)
    return place
      ? [
          {
            type: 'Feature' as const,
            properties: { name },
            geometry: { type: 'Point' as const, coordinates: place },
          },
        ]
      : []
  })
}

function outerRing(geometry: Geometry): Position[] {
  if (geometry.type === 'Polygon') return geometry.coordinates[0] ?? []
  return geometry.type === 'MultiPolygon' ? (geometry.coordinates[0]?.[0] ?? []) : []
}
