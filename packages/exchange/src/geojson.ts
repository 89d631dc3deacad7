import { done, type Outcome, type Refusal, refused } from '@underbough/model'
import { say } from './codes.ts'
import type { Table, TableRow } from './table-types.ts'

/** One feature as it stands in the file, not yet looked at. `number` counts from 1. */
export interface RawFeature {
  number: number
  properties: Record<string, unknown>
  geometry: unknown
}

/** Features of a file, and the reference system it states (the member `crs` of GeoJSON before RFC 7946). */
export interface RawFeatures {
  features: RawFeature[]
  crs: string | null
}

/** Name of the column that holds a feature's geometry as text. */
const GEOMETRY_COLUMN = 'geometry'

/** GeoJSON (RFC 7946): a collection, a single feature or a bare geometry. Never goes deeper than it must. */
export function featuresFromGeoJson(text: string): Outcome<RawFeatures> {
  let root: unknown
  try {
    root = JSON.parse(text)
  } catch (error) {
    return refused(notGeoJson(`The file is not JSON: ${(error as Error).message.slice(0, 120)}.`))
  }
  if (!isRecord(root)) return refused(notGeoJson('The file is JSON but holds no features.'))
  const list =
    root.type === 'FeatureCollection' ? root.features : root.type === 'Feature' ? [root] : asFeature(root)
  if (!Array.isArray(list)) return refused(notGeoJson('The file is JSON but holds no features.'))
  if (list.length === 0)
    return refused(say('file-header-only', '', 'The file is a collection of no features.'))
  const features: RawFeature[] = list.map((item, i) => ({
    number: i + 1,
    properties: propertiesOf(item),
    geometry: isRecord(item) ? item.geometry : null,
  }))
  return done({ features, crs: statedCrs(root) })
}

/** Features as a table: properties as columns in the order in which they first appear, the geometry as text. */
export function tableFromGeoJson(
  text: string,
): Outcome<Pick<Table, 'delimiter' | 'crs' | 'columns' | 'rows'>> {
  const read = featuresFromGeoJson(text)
  if (!read.ok) return read
  const { features, crs } = read.value
  const index = new Map<string, number>()
  for (const { properties } of features)
    for (const key of Object.keys(properties)) if (!index.has(key)) index.set(key, index.size)
  const names = [...index.keys()].map((key) => (key === GEOMETRY_COLUMN ? `${key} (property)` : key))
  const rows: TableRow[] = features.map(({ number, properties, geometry }) => {
    const cells = new Array<string>(names.length + 1).fill('')
    for (const [key, value] of Object.entries(properties)) cells[index.get(key)!] = asText(value)
    cells[names.length] = asText(geometry)
    return { line: number, cells, notes: [] }
  })
  const columns = [...names, GEOMETRY_COLUMN].map((name) => ({ name, typeHint: null }))
  return done({ delimiter: null, crs, columns, rows })
}

const notGeoJson = (message: string): Refusal => say('file-not-this-format', '', message)

export const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

function asFeature(root: Record<string, unknown>): unknown[] | null {
  return Array.isArray(root.coordinates) ? [{ properties: {}, geometry: root }] : null
}

function propertiesOf(item: unknown): Record<string, unknown> {
  if (!isRecord(item)) return {}
  const properties = isRecord(item.properties) ? item.properties : {}
  return item.id === undefined || 'id' in properties ? properties : { id: item.id, ...properties }
}

/** A nested value is kept as JSON, except where it is too deep to be written again. */
function asText(value: unknown): string {
  if (value === null || value === undefined) return ''
  if (typeof value !== 'object') return String(value).trim()
  try {
    return JSON.stringify(value)
  } catch {
    return ''
  }
}

function statedCrs(root: Record<string, unknown>): string | null {
  const properties = isRecord(root.crs) ? root.crs.properties : null
  const name = isRecord(properties) && typeof properties.name === 'string' ? properties.name : ''
  if (/CRS84$/i.test(name)) return 'WGS84'
  const code = /EPSG:+(?:[\d.]*:)?(\d{4,6})$/i.exec(name)?.[1]
  return code ? (code === '4326' ? 'WGS84' : `EPSG:${code}`) : null
}
