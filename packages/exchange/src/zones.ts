import {
  type AreaGeometry,
  type GroundGeometry,
  type OccupancyProfile,
  type Outcome,
  planeAt,
  type Refusal,
  type ZoneInput,
  type ZoneKind,
  type ZoneMapping,
} from '@underbough/model'
import { say } from './codes.ts'
import type { RawFeature } from './geojson.ts'
import { zoneKindOf } from './kinds.ts'
import { bufferedLines } from './line-buffer.ts'
import { signedArea } from './rings.ts'
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
/**
 * Square metres of ground for each person there when somebody is: one person in every building and on every street alike would
 * put a shed before a school and a house before the street it stands in. Assumption, all of it: no source.
 */
const groundEachM2: Record<ZoneKind, number> = {
  building: 40,
  utility: 1000,
  road: 300,
  parking: 300,
  footpath: 150,
  play: 100,
  seating: 20,
}
/** However large a zone, until somebody has counted. Assumption. */
const MOST_PEOPLE = 200
const NAME_MAX = 120

/**
 * Reads target zones from GeoJSON: areas as they are, lines widened to the mapping's `lineWidthM` with flat ends.
 * What a zone is comes from its kind column or common tags; where neither tells, the mapping's kind is given with the
 * note `kind-assumed`. Occupancy starts at the
 * usual word for the kind and at people by its ground, and is meant to be looked at.
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
  const area = areaOf(shape, mapping.lineWidthM)
  const occupancy: OccupancyProfile = {
    kind: 'class',
    word: occupancyWord,
    peopleWhenPresent: peopleOn(area.geometry, groundEachM2[kind]),
  }
  return {
    siteId: null,
    name: nameOf(feature, mapping.nameColumn) ?? `${kind} ${feature.number}`,
    kind,
    ...area,
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

/** Whole people, at least one. Planar area about the first corner: a count this rough needs no ellipsoid. */
function peopleOn(geometry: AreaGeometry, eachM2: number): number {
  const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates
  const [lon, lat] = polygons[0]![0]![0]!
  const plane = planeAt(lon, lat)
  const areaM2 = polygons
    .flatMap((rings) =>
      rings.map((ring, place) => {
        const area = Math.abs(signedArea(ring.map(([x, y]) => plane.toMetres(x, y))))
        return place === 0 ? area : -area
      }),
    )
    .reduce((sum, area) => sum + area, 0)
  return Math.min(MOST_PEOPLE, Math.max(1, Math.round(areaM2 / eachM2)))
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
