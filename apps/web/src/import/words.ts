import type { Change, TreeField, TreeMapping, Verdict } from '@underbough/model'
import { type RefusalCode, refusalCodes } from '@underbough/model'
import type { Guess, ImportKind, ImportState } from './types.ts'

/** What a column can be taken for, in the words of the mapping table. */
export const fieldNames: Readonly<Record<TreeField, string>> = {
  ignore: 'Leave out',
  sourceKey: 'Stable identifier',
  sourceKeyPart: 'Part of the stable identifier',
  tag: 'Tag',
  species: 'Species',
  commonName: 'Common name',
  diameter: 'Stem diameter',
  circumference: 'Stem circumference',
  height: 'Height',
  crownBaseHeight: 'Height of the crown’s base',
  crownDiameter: 'Crown diameter',
  crownRadius: 'Crown radius',
  count: 'Number of trees',
  owner: 'Owner',
  plantedYear: 'Year planted',
  status: 'Status',
  note: 'Note',
  x: 'East, or longitude',
  y: 'North, or latitude',
  geometry: 'Position as a geometry',
}
export const kindNames: Readonly<Record<ImportKind, { many: string; one: string; holds: string }>> = {
  trees: { many: 'trees', one: 'tree', holds: 'A list of trees: CSV, or GeoJSON with points.' },
  zones: {
    many: 'zones',
    one: 'zone',
    holds: 'Target zones: GeoJSON with areas, or ways that are given a width.',
  },
  ground: {
    many: 'features',
    one: 'feature',
    holds: 'The ground itself: water, greens, roads and paths as GeoJSON.',
  },
}
export const stateNames: Readonly<Record<ImportState, string>> = {
  mapping: 'Waits for its mapping',
  reading: 'Being read',
  ready: 'Read, not brought in',
  writing: 'Being brought in',
  done: 'Brought in',
  cancelled: 'Cancelled, nothing kept',
  failed: 'Could not be read',
}
export const confidenceNames: Readonly<Record<Guess['confidence'], string>> = {
  sure: 'Sure',
  likely: 'Likely',
  guess: 'A guess',
  none: 'Not known',
}
export const verdictNames: Readonly<Record<Verdict, string>> = {
  taken: 'taken',
  'taken-with-notes': 'taken with notes',
  refused: 'refused',
}
export const changeNames: Readonly<Record<Change, string>> = {
  new: 'new',
  changed: 'changed',
  same: 'the same',
  gone: 'gone from the list',
}
export const speciesOrderNames: Readonly<Record<TreeMapping['speciesOrder'], string>> = {
  botanical: 'botanical name only',
  'botanical-then-common': 'botanical name, then common',
  'common-then-botanical': 'common name, then botanical',
}
const separators: Readonly<Record<string, string>> = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
  '|': 'bar',
}
export const delimiterName = (delimiter: string): string => separators[delimiter] ?? `“${delimiter}”`

/** The code's own sentence; a code of a newer server is said as it came. */
export const sentenceOf = (code: string): string => refusalCodes[code as RefusalCode] ?? `${code}.`

const recordNames: Readonly<Record<string, string>> = {
  tag: 'tag',
  species: 'species',
  commonName: 'common name',
  position: 'place',
  stems: 'stem',
  group: 'group',
  heightM: 'height',
  crownBaseHeightM: 'crown’s base',
  crownRadiiM: 'crown',
  owner: 'owner',
  plantedYear: 'year planted',
  status: 'status',
  note: 'note',
  name: 'name',
  kind: 'kind',
  geometry: 'outline',
}
/** A field of a record in a person's words. */
export const recordFieldName = (field: string): string => recordNames[field] ?? field

const figure = (value: number) => String(Number(value.toFixed(1)))

/** One side of a difference, with its unit: stems as one diameter in cm, a crown as its mean radius in m, a group as its number. Null is unknown. */
export function sayValue(field: string, value: unknown): string {
  if (value === null || value === undefined || value === '') return 'unknown'
  if (field === 'position' && Array.isArray(value))
    return value.map((degrees) => Number(degrees).toFixed(6)).join(', ')
  if (typeof value === 'number') {
    if (field === 'stems') return `${figure(value)} cm`
    if (field === 'crownRadiiM') return `${figure(value)} m from the stem`
    if (field === 'group') return `${value} trees`
  }
  if (typeof value === 'number') return field.endsWith('M') ? `${figure(value)} m` : String(value)
  return typeof value === 'string' ? value : JSON.stringify(value)
}
