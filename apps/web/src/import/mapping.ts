import type { TreeField, TreeMapping } from '@underbough/model'
import type { GroundMapping, Mapping } from './types.ts'

export const isTreeMapping = (mapping: Mapping): mapping is TreeMapping => 'columns' in mapping
/** Zones give ways a width; the ground's own lines stay lines. */
export const isGroundMapping = (mapping: Mapping): mapping is GroundMapping =>
  !isTreeMapping(mapping) && !('lineWidthM' in mapping)

/** Fields of which a file may have several columns; every other field has one. */
const manyColumns: readonly TreeField[] = ['ignore', 'sourceKeyPart', 'note']

/** Takes a column for a field; the column that held the field before is left out. */
export function takenFor(mapping: TreeMapping, column: string, field: TreeField): TreeMapping {
  const columns = { ...mapping.columns }
  if (!manyColumns.includes(field))
    for (const other of Object.keys(columns)) if (columns[other] === field) columns[other] = 'ignore'
  columns[column] = field
  return { ...mapping, columns }
}

/** Sentences about what a mapping lacks. The first kind keeps it from being read; the second is good to know. */
export function mappingLacks(mapping: TreeMapping): { missing: string[]; mind: string[] } {
  const held = new Set(Object.values(mapping.columns))
  const missing =
    held.has('geometry') || (held.has('x') && held.has('y'))
      ? []
      : ['Say which column holds the position, or which two do.']
  const mind = [
    ...(held.has('sourceKey') || held.has('sourceKeyPart')
      ? []
      : [
          'No column is a stable identifier, so a later list of the same trees cannot be set beside this one: every tree would be new.',
        ]),
    ...(held.has('species') || held.has('commonName') ? [] : ['No column holds the species.']),
    ...(held.has('height')
      ? []
      : ['No column holds the height, so how far a tree reaches stays an estimate.']),
    ...(held.has('diameter') && held.has('circumference')
      ? ['Both a diameter and a circumference are taken. The diameter is used where both stand.']
      : []),
  ]
  return { missing, mind }
}

/** `EPSG:25832` as 25832; null for WGS84 and for what is neither. */
export const epsgNumber = (crs: string): number | null => {
  const found = /^EPSG:(\d+)$/i.exec(crs.trim())
  return found ? Number(found[1]) : null
}
export const crsOf = (epsg: number | null): string => `EPSG:${epsg ?? ''}`
