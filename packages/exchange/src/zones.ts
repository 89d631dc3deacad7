import type {
  GroundGeometry,
  OccupancyProfile,
  Outcome,
  Refusal,
  ZoneInput,
  ZoneKind,
  ZoneMapping,
} from '@underbough/model'
import { say } from './codes.ts'
import type { RawFeature } from './geojson.ts'
import { zoneKindOf } from './kinds.ts'
import { bufferedLines } from './line-buffer.ts'
import { type FeatureReading, readFeatures } from './shapes.ts'

/** How much of the day somebody is there, until a person who knows the place says otherwise. Assumption. */
const usualOccupancy: Record<ZoneKind, ZoneInput['occupancyWord']> = {
  building: 'constant',
  utility: 'constant',
  road: 'frequent',
  parking: 'frequent',
  footpath: 'occasional',
  play: 'frequent',
  seating: 'occasional',
}
/** People there when somebody is. Assumption. */
const PEOPLE_WHEN_PRESENT = 1
const NAME_MAX = 120

/**
 * Reads target zones from GeoJSON: areas as they are, lines widened to the mapping's `lineWidthM` with flat ends.
 * What a zone is comes from its kind column or common tags; where neither tells, the mapping's kind is given with the
 * note `kind-assumed`. Occupancy starts at the usual word for the kind and is meant to be looked at.
 */
export function readZones(
  bytes: Uint8Array,
  mapping: ZoneMapping,
): Promise<Outcome<FeatureReading<ZoneInput>>> {
  return readFeatures(bytes, mapping.crs, (feature, shape, notes) => zoneOf(feature, shape, mapping, notes))
}

function zoneOf(
  feature: RawFeature,
  shape: GroundGeometry,
  mapping: ZoneMapping,
  notes: Refusal[],
): ZoneInput {
  const found = zoneKindOf(feature.properties, mapping.kindColumn)
  if (found === null) notes.push(assumed(mapping.kind))
  const kind = found ?? mapping.kind
  const occupancyWord = usualOccupancy[kind]
  const occupancy: OccupancyProfile = {
    kind: 'class',
    word: occupancyWord,
    peopleWhenPresent: PEOPLE_WHEN_PRESENT,
  }
  return {
    siteId: null,
    name: nameOf(feature, mapping.nameColumn) ?? `${kind} ${feature.number}`,
    kind,
    ...areaOf(shape, mapping.lineWidthM),
    occupancyWord,
    occupancy,
    staticTarget: kind === 'building' || kind === 'utility',
    shelterHeightM: null,
    shelterClass: null,
    valueAtStake: null,
    partOf: null,
    note: '',
  }
}

function areaOf(shape: GroundGeometry, widthM: number): Pick<ZoneInput, 'geometry' | 'fromLine'> {
  if (shape.type === 'Polygon' || shape.type === 'MultiPolygon') return { geometry: shape, fromLine: null }
  if (shape.type === 'LineString')
    return { geometry: bufferedLines([shape.coordinates], widthM), fromLine: { line: shape, widthM } }
  return { geometry: bufferedLines(shape.coordinates, widthM), fromLine: null }
}

export const assumed = (kind: string) =>
  say('kind-assumed', 'kind', `The file does not tell what this is; it was entered as ${kind}.`, {
    value: kind,
  })

/** Name from the column a person chose, else from `name`; `null` where both are blank. */
export function nameOf(feature: RawFeature, column: string | null): string | null {
  for (const key of [column, 'name']) {
    const value = key === null ? null : feature.properties[key]
    if (typeof value === 'string' && value.trim() !== '') return value.trim().slice(0, NAME_MAX)
    if (typeof value === 'number') return String(value)
  }
  return null
}
