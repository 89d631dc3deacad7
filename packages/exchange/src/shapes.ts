import type { AreaGeometry, GroundGeometry, Position, Refusal, Verdict } from '@underbough/model'
import { done, type Outcome } from '@underbough/model'
import { say } from './codes.ts'
import { type Crs, findCrs } from './crs.ts'
import { featuresFromGeoJson, isRecord, type RawFeature } from './geojson.ts'
import { checkPolygons, type Mended, type Ring, readPositions, readRing } from './rings.ts'
import { decodeText } from './text.ts'

/** What became of one feature. `number` counts from 1 as the features stand in the file. */
export interface FeatureVerdict<T> {
  number: number
  verdict: Verdict
  notes: Refusal[]
  raw: Record<string, string>
  /** `null` exactly when the feature is refused. */
  value: T | null
  sourceKey: string | null
}

/** A file of areas or ground, read. `notes` are about the file as a whole. */
export interface FeatureReading<T> {
  rows: FeatureVerdict<T>[]
  counts: Record<Verdict, number>
  /** West, south, east, north of what was taken, degrees. */
  extent: [number, number, number, number] | null
  notes: Refusal[]
}

/**
 * A GeoJSON geometry as a line or area in WGS84: closed, turned and without heights where need be.
 * @returns or the refusal: `geometry-empty`, `-wrong-kind`, `-outside-world`, `-no-area`, `-crosses-itself`
 */
function readShape(geometry: unknown, crs: Crs, mended: Mended): GroundGeometry | Refusal {
  if (!isRecord(geometry)) return say('geometry-empty', 'geometry', 'The feature has no geometry.')
  const { type, coordinates } = geometry
  if (type === 'LineString') return lines([coordinates], crs, mended)
  if (type === 'MultiLineString') return lines(listOf(coordinates), crs, mended)
  if (type === 'Polygon') return areas([coordinates], crs, mended)
  if (type === 'MultiPolygon') return areas(listOf(coordinates), crs, mended)
  return say(
    'geometry-wrong-kind',
    'geometry',
    `A ${String(type).slice(0, 40)} is neither a line nor an area.`,
    {
      value: type,
    },
  )
}

const listOf = (value: unknown): unknown[] => (Array.isArray(value) ? value : [])
const noCoordinates = () => say('geometry-empty', 'geometry', 'The geometry has no coordinates.')

function lines(raw: unknown[], crs: Crs, mended: Mended): GroundGeometry | Refusal {
  const read: Position[][] = []
  for (const item of raw) {
    const line = readPositions(item, crs, mended)
    if (!Array.isArray(line)) return line
    if (line.length < 2) return say('geometry-no-area', 'geometry', 'The line has no length.')
    read.push(line)
  }
  if (read.length === 0) return noCoordinates()
  return read.length === 1
    ? { type: 'LineString', coordinates: read[0]! }
    : { type: 'MultiLineString', coordinates: read }
}

function areas(raw: unknown[], crs: Crs, mended: Mended): AreaGeometry | Refusal {
  const polygons: Ring[][] = []
  for (const item of raw) {
    const rings: Ring[] = []
    for (const rawRing of listOf(item)) {
      const ring = readRing(rawRing, crs, mended)
      if (!isRing(ring)) return ring
      rings.push(ring)
    }
    if (rings.length === 0) return noCoordinates()
    polygons.push(rings)
  }
  if (polygons.length === 0) return noCoordinates()
  return (
    checkPolygons(polygons, mended) ??
    (polygons.length === 1
      ? { type: 'Polygon', coordinates: polygons[0]! }
      : { type: 'MultiPolygon', coordinates: polygons })
  )
}

const isRing = (ring: Ring | Refusal): ring is Ring => Array.isArray(ring)
const isShape = (shape: GroundGeometry | Refusal): shape is GroundGeometry => 'coordinates' in shape

/** Reads a file of features with one verdict each; `make` turns a sound shape into a record and adds notes. */
export async function readFeatures<T extends { geometry: GroundGeometry }>(
  bytes: Uint8Array,
  crsName: string,
  make: (feature: RawFeature, shape: GroundGeometry, notes: Refusal[]) => T | Refusal,
): Promise<Outcome<FeatureReading<T>>> {
  const decoded = decodeText(bytes)
  if (!decoded.ok) return decoded
  const read = featuresFromGeoJson(decoded.value.text)
  if (!read.ok) return read
  const crs = await findCrs(crsName)
  if (!crs.ok) return crs
  const mended: Mended = { closed: 0, turned: 0, heights: 0 }
  const reading: FeatureReading<T> = {
    rows: [],
    counts: { taken: 0, 'taken-with-notes': 0, refused: 0 },
    extent: null,
    notes: [],
  }
  for (const feature of read.value.features) {
    const row = readFeature(feature, crs.value, mended, make)
    reading.rows.push(row)
    reading.counts[row.verdict]++
    if (row.value) reading.extent = extended(reading.extent, row.value.geometry)
  }
  reading.notes = [...decoded.notes, ...crs.notes, ...mendedNotes(mended)]
  return done(reading, reading.notes)
}

function readFeature<T>(
  feature: RawFeature,
  crs: Crs,
  mended: Mended,
  make: (feature: RawFeature, shape: GroundGeometry, notes: Refusal[]) => T | Refusal,
): FeatureVerdict<T> {
  const raw = rawOf(feature.properties)
  const sourceKey = keyOf(feature.properties)
  const base = { number: feature.number, raw, sourceKey }
  const closedBefore = mended.closed
  const shape = readShape(feature.geometry, crs, mended)
  if (!isShape(shape)) return { ...base, verdict: 'refused', notes: [shape], value: null }
  const notes: Refusal[] = []
  if (mended.closed > closedBefore)
    notes.push(
      say('geometry-ring-closed', 'geometry', 'The outline did not end where it began; it was closed.'),
    )
  const value = make(feature, shape, notes)
  if (isRefusal(value)) return { ...base, verdict: 'refused', notes: [value, ...notes], value: null }
  return { ...base, verdict: notes.length > 0 ? 'taken-with-notes' : 'taken', notes, value }
}

const isRefusal = (value: unknown): value is Refusal =>
  isRecord(value) && 'code' in value && 'message' in value

function mendedNotes({ turned, heights }: Mended): Refusal[] {
  const notes: Refusal[] = []
  if (turned > 0)
    notes.push(
      say(
        'geometry-ring-turned',
        'geometry',
        `${turned} outlines ran the other way round and were turned (RFC 7946).`,
        { value: turned },
      ),
    )
  if (heights > 0)
    notes.push(
      say('geometry-height-dropped', 'geometry', 'The coordinates carry heights; they were left out.', {
        value: heights,
      }),
    )
  return notes
}

function rawOf(properties: Record<string, unknown>): Record<string, string> {
  return Object.fromEntries(
    Object.entries(properties).map(([key, value]) => [
      key,
      typeof value === 'string' ? value : (JSON.stringify(value) ?? ''),
    ]),
  )
}

function keyOf(properties: Record<string, unknown>): string | null {
  for (const key of ['id', 'osm_id', 'osm_way_id', 'uuid']) {
    const value = properties[key]
    if ((typeof value === 'string' && value.trim() !== '') || typeof value === 'number')
      return String(value).trim()
  }
  return null
}

function extended(
  extent: FeatureReading<never>['extent'],
  geometry: GroundGeometry,
): FeatureReading<never>['extent'] {
  let [west, south, east, north] = extent ?? [180, 90, -180, -90]
  for (const [lon, lat] of allPositions(geometry)) {
    west = Math.min(west, lon)
    south = Math.min(south, lat)
    east = Math.max(east, lon)
    north = Math.max(north, lat)
  }
  return [west, south, east, north]
}

function allPositions(geometry: GroundGeometry): Position[] {
  if (geometry.type === 'LineString') return geometry.coordinates
  if (geometry.type === 'MultiPolygon') return geometry.coordinates.flat(2)
  return geometry.coordinates.flat(1)
}
