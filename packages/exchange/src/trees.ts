import {
  done,
  type Outcome,
  type Position,
  type Refusal,
  refused,
  type TreeField,
  type TreeInput,
  type TreeMapping,
  type Verdict,
} from '@underbough/model'
import { say } from './codes.ts'
import { type Crs, findCrs } from './crs.ts'
import {
  type AxisOrder,
  distanceM,
  findAxisOrder,
  type PlaceColumns,
  placed,
  type RawPair,
  rawPair,
} from './positions.ts'
import type { Table } from './table.ts'
import { type RowView, readTree, shortTag, sourceKeyOf, tagOf } from './tree-row.ts'

/** What became of one row. `line` is as a person counts in the file; `raw` is every cell by its column. */
export interface RowVerdict {
  line: number
  verdict: Verdict
  notes: Refusal[]
  raw: Record<string, string>
  /** `null` exactly when the row is refused. */
  tree: TreeInput | null
  sourceKey: string | null
}

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

/** Reads rows one after another and remembers identifiers and tags. */
class RowReader {
  private readonly lineOfKey = new Map<string, number>()
  private readonly tags = new Set<string>()
  private readonly path: string
  private readonly hasKey: boolean

  constructor(
    private readonly mapping: TreeMapping,
    private readonly crs: Crs,
    private readonly axes: AxisOrder,
    private readonly axisNote: Refusal | null,
    place: PlaceColumns,
  ) {
    this.path = place.geometry ?? place.x!
    const fields = Object.values(mapping.columns)
    this.hasKey = fields.includes('sourceKey') || fields.includes('sourceKeyPart')
  }

  read(
    line: number,
    row: RowView,
    raw: RowVerdict['raw'],
    pair: RawPair | Refusal,
    before: Refusal[],
  ): RowVerdict {
    const sourceKey = sourceKeyOf(row)
    const position = Array.isArray(pair) ? placed(pair, this.axes, this.crs, this.path) : pair
    const reasons = [...(Array.isArray(position) ? [] : [position]), ...this.keyReasons(sourceKey)]
    if (reasons.length > 0 || !Array.isArray(position))
      return { line, verdict: 'refused', notes: [...reasons, ...before], raw, tree: null, sourceKey }
    if (sourceKey !== null) this.lineOfKey.set(sourceKey, line)
    const notes = [...before, ...(this.axisNote ? [this.axisNote] : [])]
    const tag = this.freeTag(tagOf(row, sourceKey, line), sourceKey ?? `line ${line}`, notes)
    const { tree, notes: own } = readTree(row, this.mapping, position, tag)
    notes.push(...own)
    return { line, verdict: notes.length > 0 ? 'taken-with-notes' : 'taken', notes, raw, tree, sourceKey }
  }

  private keyReasons(sourceKey: string | null): Refusal[] {
    if (!this.hasKey) return []
    if (sourceKey === null)
      return [say('id-missing', 'sourceKey', 'The row has no stable identifier. Give it one.')]
    const first = this.lineOfKey.get(sourceKey)
    if (first === undefined) return []
    return [
      say(
        'id-duplicate',
        'sourceKey',
        `“${sourceKey}” stands on line ${first} already; that row was taken.`,
        {
          value: sourceKey,
          limit: `first on line ${first}`,
        },
      ),
    ]
  }

  private freeTag(tag: string, key: string, notes: Refusal[]): string {
    let free = tag
    for (let n = 1; this.tags.has(free); n++) free = shortTag(`${tag} (${key}${n > 1 ? `, ${n}` : ''})`)
    this.tags.add(free)
    if (free !== tag)
      notes.push(
        say(
          'tag-repeated',
          'tag',
          `The tag “${tag}” stands on another tree too; this one became “${free}”.`,
          { value: tag },
        ),
      )
    return free
  }
}

/** Two trees nearer than about a centimetre stand on one point. */
function noteShared(rows: RowVerdict[]): void {
  const at = new Map<string, RowVerdict[]>()
  for (const row of rows) {
    if (!row.tree) continue
    const key = row.tree.position.map((degrees) => degrees.toFixed(7)).join()
    const there = at.get(key)
    if (there) there.push(row)
    else at.set(key, [row])
  }
  for (const there of at.values()) {
    if (there.length < 2) continue
    for (const row of there)
      row.notes.push(
        say('shared-position', 'position', `${there.length} trees of the file stand on this one point.`, {
          value: there.length,
        }),
      )
  }
}

function noteFarAway(rows: RowVerdict[], farAwayM: number): void {
  const positions = rows.flatMap((row) => (row.tree ? [row.tree.position] : []))
  if (positions.length === 0) return
  const middle: Position = [median(positions.map((p) => p[0])), median(positions.map((p) => p[1]))]
  for (const row of rows) {
    if (!row.tree) continue
    const away = distanceM(row.tree.position, middle)
    if (away <= farAwayM) continue
    const km = Math.round(away / 1000)
    row.notes.push(
      say('position-far-away', 'position', `This tree lies ${km} km from the middle of the file.`, {
        value: Math.round(away),
        limit: `${farAwayM / 1000} km`,
      }),
    )
  }
}

function median(values: number[]): number {
  const sorted = values.sort((a, b) => a - b)
  return sorted[sorted.length >> 1]!
}
