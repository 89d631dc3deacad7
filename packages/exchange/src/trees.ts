import {
  done,
  type Outcome,
  type Position,
  type Refusal,
  refused,
  type TreeField,
  type TreeMapping,
  type Verdict,
} from '@underbough/model'
import { say } from './codes.ts'
import { type Crs, findCrs } from './crs.ts'
import { noteFarAway, noteShared } from './neighbour-notes.ts'
import { type AxisOrder, findAxisOrder, type PlaceColumns, type RawPair, rawPair } from './positions.ts'
import { RowReader } from './row-reader.ts'
import type { RowVerdict } from './row-verdict.ts'
import type { Table } from './table-types.ts'
import type { RowView } from './tree-row.ts'

/** A file of trees, read. `notes` are about the file as a whole, `crsNotes` those of them about its coordinates. */
export interface TreeReading {
  rows: RowVerdict[]
  counts: Record<Verdict, number>
  /** West, south, east, north of the trees taken, degrees. */
  extent: [number, number, number, number] | null
  axes: AxisOrder
  crs: string
  notes: Refusal[]
  crsNotes: Refusal[]
  /** Fields that the file speaks of; a re-import compares only these. */
  fields: TreeField[]
}

/** What a person, or the organisation's own data, may say beyond the mapping. */
export interface TreeReadingOptions {
  /** `find` looks where the points fall; the other two are a person's own choice and are not questioned. */
  axes?: 'find' | AxisOrder
  /** A place the organisation knows to be its own: decides the order of latitude and longitude where both fit. */
  near?: Position | null
  /** Distance from the middle of the file beyond which a point is noted. */
  farAwayM?: number
  /** Rows read between two reports of progress. */
  stepRows?: number
}

/** How far a reading has come; both passes over the rows count. */
export interface Progress {
  rowsDone: number
  rowsTotal: number
}

/** A town's trees stand within this distance of their middle. Assumption. */
const FAR_AWAY_M = 50_000
const STEP_ROWS = 500

/** Reads every row of a table as a tree, with one verdict a row. See `readTreesInSteps`. */
export async function readTrees(
  table: Table,
  mapping: TreeMapping,
  options: TreeReadingOptions = {},
): Promise<Outcome<TreeReading>> {
  const steps = readTreesInSteps(table, mapping, options)
  for (;;) {
    const step = await steps.next()
    if (step.done) return step.value
  }
}

/**
 * Reads in steps, so that a caller can report progress between them and stop by leaving the loop.
 *
 * A row is refused for a missing, unreadable or impossible position, a blank or repeated stable identifier, and
 * nothing else; a figure that cannot be right leaves the value unknown and a note. The whole is refused only for
 * `column-missing` and `crs-unknown`. Stem heights are the mapping's `measuredAtM`.
 */
export async function* readTreesInSteps(
  table: Table,
  mapping: TreeMapping,
  options: TreeReadingOptions = {},
): AsyncGenerator<Progress, Outcome<TreeReading>> {
  const view = viewOf(table, mapping)
  if (!view.ok) return view
  const crs = await findCrs(mapping.crs)
  if (!crs.ok) return crs
  const { place, rowView } = view.value
  const stepRows = options.stepRows ?? STEP_ROWS
  const rowsTotal = 2 * table.rows.length
  const pairs: (RawPair | Refusal)[] = []
  for (const [i, row] of table.rows.entries()) {
    pairs.push(rawPair((column) => rowView(row.cells).cell(column), place, mapping))
    if (i % stepRows === stepRows - 1) yield { rowsDone: i + 1, rowsTotal }
  }
  const { axes, note } = axisOrder(pairs, crs.value, options)
  const reader = new RowReader(mapping, crs.value, axes, note, place)
  const rows: RowVerdict[] = []
  for (const [i, row] of table.rows.entries()) {
    const raw = Object.fromEntries(table.columns.map((column, c) => [column.name, row.cells[c] ?? '']))
    rows.push(reader.read(row.line, rowView(row.cells), raw, pairs[i]!, row.notes))
    if (i % stepRows === stepRows - 1) yield { rowsDone: table.rows.length + i + 1, rowsTotal }
  }
  noteShared(rows)
  noteFarAway(rows, options.farAwayM ?? FAR_AWAY_M)
  return summed(rows, axes, crs.value, note, mapping)
}

function summed(
  rows: RowVerdict[],
  axes: AxisOrder,
  crs: Crs,
  axisNote: Refusal | null,
  mapping: TreeMapping,
): Outcome<TreeReading> {
  const counts: Record<Verdict, number> = { taken: 0, 'taken-with-notes': 0, refused: 0 }
  let extent: TreeReading['extent'] = null
  for (const row of rows) {
    if (row.verdict !== 'refused' && row.notes.length > 0) row.verdict = 'taken-with-notes'
    counts[row.verdict]++
    if (!row.tree) continue
    const [lon, lat] = row.tree.position
    extent = extent
      ? [
          Math.min(extent[0], lon),
          Math.min(extent[1], lat),
          Math.max(extent[2], lon),
          Math.max(extent[3], lat),
        ]
      : [lon, lat, lon, lat]
  }
  const crsNotes = [...crs.notes, ...(axisNote ? [axisNote] : [])]
  const notes = [...crsNotes, ...mappingNotes(mapping)]
  const fields = [...new Set(Object.values(mapping.columns))].filter((field) => field !== 'ignore')
  return done({ rows, counts, extent, axes, crs: crs.name, notes, crsNotes, fields }, notes)
}

/** What holds for every row is said once, not on every row. */
function mappingNotes(mapping: TreeMapping): Refusal[] {
  const fields = new Set(Object.values(mapping.columns))
  const notes: Refusal[] = []
  if (!fields.has('sourceKey') && !fields.has('sourceKeyPart'))
    notes.push(
      say('id-missing', '', 'No column is the stable identifier, so a newer export cannot be compared.'),
    )
  if (!fields.has('species'))
    notes.push(
      say('species-unknown', '', 'No column holds the botanical name; the common name stands in for it.'),
    )
  return notes
}

interface TableView {
  place: PlaceColumns
  rowView(cells: string[]): RowView
}

function viewOf(table: Table, mapping: TreeMapping): Outcome<TableView> {
  const index = new Map(table.columns.map((column, i) => [column.name, i]))
  const byField = new Map<TreeField, string[]>()
  const missing: Refusal[] = []
  for (const [column, field] of Object.entries(mapping.columns)) {
    if (field === 'ignore') continue
    if (!index.has(column))
      missing.push(say('column-missing', column, `The file has no column “${column}”.`, { value: field }))
  }
  for (const { name } of table.columns) {
    const field = Object.hasOwn(mapping.columns, name) ? mapping.columns[name]! : 'ignore'
    if (field !== 'ignore') byField.set(field, [...(byField.get(field) ?? []), name])
  }
  const place = {
    x: byField.get('x')?.[0] ?? null,
    y: byField.get('y')?.[0] ?? null,
    geometry: byField.get('geometry')?.[0] ?? null,
  }
  if (place.geometry === null && (place.x === null || place.y === null))
    missing.push(say('column-missing', 'geometry', 'Say which column holds the position, or which two do.'))
  if (missing.length > 0) return refused(...missing)
  const none: string[] = []
  const columnsOf = (field: TreeField) => byField.get(field) ?? none
  const rowView = (cells: string[]): RowView => ({
    columnsOf,
    cell: (column) => cells[index.get(column)!] ?? '',
  })
  return done({ place, rowView })
}

function axisOrder(pairs: (RawPair | Refusal)[], crs: Crs, options: TreeReadingOptions) {
  const asked = options.axes ?? 'find'
  const found = pairs.filter((pair): pair is RawPair => Array.isArray(pair))
  const axes = asked === 'find' ? findAxisOrder(found, crs, options.near ?? null) : asked
  const why = asked === 'find' ? `as named, the points do not fall in ${crs.name}` : 'a person said so'
  const note =
    axes === 'swapped'
      ? say('axes-swapped', '', `The two coordinates were taken the other way round: ${why}.`)
      : null
  return { axes, note }
}
