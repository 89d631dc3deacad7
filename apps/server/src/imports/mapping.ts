import { z } from '@hono/zod-openapi'
import type { ImportKind } from '@underbough/db'
import { type GroundMapping, type MappingSuggestion, suggestMapping, type Table } from '@underbough/exchange'
import {
  groundFeatureKinds,
  type Organisation,
  type TreeMapping,
  treeMapping,
  type ZoneMapping,
  zoneMapping,
} from '@underbough/model'
import { Refused, refusalsOf } from '../http/problem.ts'

const groundMapping = zoneMapping
  .omit({ kind: true, lineWidthM: true })
  .extend({ kind: z.enum(groundFeatureKinds) })
const schemas = { trees: treeMapping, zones: zoneMapping, ground: groundMapping }

export type Mapping = TreeMapping | ZoneMapping | GroundMapping
export const anyMapping = z.union([treeMapping, zoneMapping, groundMapping])

/** Width that a way without one is given, metres (Assumption: a footpath and its edges). */
const LINE_WIDTH_M = 3

/** The mapping as the kind of import needs it, refused field by field. */
export function checkedMapping(kind: ImportKind, given: unknown): Mapping {
  const read = schemas[kind].safeParse(given)
  if (!read.success)
    throw new Refused(refusalsOf(read.error).map((r) => ({ ...r, path: `mapping.${r.path}` })))
  return read.data
}

/** Columns of the file that a mapping names. */
export function namedColumns(mapping: Mapping): string[] {
  if ('columns' in mapping)
    return Object.entries(mapping.columns).flatMap(([column, field]) => (field === 'ignore' ? [] : [column]))
  return [mapping.nameColumn, mapping.kindColumn].filter((name) => name !== null)
}

/** A mapping to start from, and for trees the reason for each part of it. */
export function suggested(
  kind: ImportKind,
  table: Table,
  { stemHeightM, units }: Organisation,
): { suggested: Mapping; explanations: Omit<MappingSuggestion, 'mapping'> | null } {
  if (kind === 'trees') {
    const { mapping, ...explanations } = suggestMapping(table, { stemHeightM, units })
    return { suggested: mapping, explanations }
  }
  const column = (pattern: RegExp) => table.columns.find(({ name }) => pattern.test(name))?.name ?? null
  const common = { nameColumn: column(/^name$/i), kindColumn: column(/^kind$/i), crs: table.crs ?? 'WGS84' }
  return {
    suggested:
      kind === 'zones'
        ? { ...common, kind: 'footpath', lineWidthM: LINE_WIDTH_M }
        : { ...common, kind: 'path' },
    explanations: null,
  }
}
