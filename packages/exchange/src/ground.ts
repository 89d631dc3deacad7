import type { GroundFeature, GroundFeatureKind, Outcome } from '@underbough/model'
import { groundKindOf } from './kinds.ts'
import { type FeatureReading, readFeatures } from './shapes.ts'
import { assumed, nameOf } from './zones.ts'

/** A ground feature as it comes in, before it is stored. */
export type GroundFeatureInput = Omit<GroundFeature, 'id' | 'version' | 'createdAt' | 'updatedAt'>

/** How a file of ground features is to be read. `kind` is given to features whose own kind is not known. */
export interface GroundMapping {
  nameColumn: string | null
  kindColumn: string | null
  kind: GroundFeatureKind
  crs: string
}

/** Reads paths, roads, water, greens and buildings from GeoJSON; lines stay lines. */
export function readGround(
  bytes: Uint8Array,
  mapping: GroundMapping,
): Promise<Outcome<FeatureReading<GroundFeatureInput>>> {
  return readFeatures(bytes, mapping.crs, (feature, geometry, notes) => {
    const kind = groundKindOf(feature.properties, mapping.kindColumn)
    if (kind === null) notes.push(assumed(mapping.kind))
    return { siteId: null, kind: kind ?? mapping.kind, name: nameOf(feature, mapping.nameColumn), geometry }
  })
}
