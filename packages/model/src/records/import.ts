import { z } from 'zod'
import { zoneKinds } from '../words.ts'
import { text } from './common.ts'

/** What a column of a file is taken for. */
export const treeFields = [
  'ignore',
  'sourceKey',
  'sourceKeyPart',
  'tag',
  'species',
  'commonName',
  'diameter',
  'circumference',
  'height',
  'crownBaseHeight',
  'crownDiameter',
  'crownRadius',
  'count',
  'owner',
  'plantedYear',
  'status',
  'note',
  'x',
  'y',
  'geometry',
] as const
export type TreeField = (typeof treeFields)[number]

/** How a person says a file of trees is to be read. `sourceKeyPart` columns together make the stable identifier. */
export const treeMapping = z.object({
  columns: z.record(z.string(), z.enum(treeFields)),
  diameterUnit: z.enum(['cm', 'mm', 'm', 'in']),
  heightUnit: z.enum(['m', 'ft']),
  measuredAtM: z.number().min(0).max(3),
  crs: text(20).describe('WGS84, or EPSG: and its number'),
  decimalComma: z.boolean(),
  speciesOrder: z.enum(['botanical', 'botanical-then-common', 'common-then-botanical']),
  speciesSeparator: z.string().max(5),
})
export type TreeMapping = z.infer<typeof treeMapping>

export const zoneMapping = z.object({
  nameColumn: z.string().nullable(),
  kindColumn: z.string().nullable(),
  kind: z.enum(zoneKinds).describe('for features whose own kind is not known'),
  lineWidthM: z.number().gt(0).max(200).describe('width given to lines'),
  crs: text(20),
})
export type ZoneMapping = z.infer<typeof zoneMapping>

export const verdicts = ['taken', 'taken-with-notes', 'refused'] as const
export type Verdict = (typeof verdicts)[number]
/** Beside what is stored already. Nothing is ever deleted by an import: `gone` is shown, and a person decides. */
export const changes = ['new', 'changed', 'same', 'gone'] as const
export type Change = (typeof changes)[number]
