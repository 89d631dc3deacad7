import { done, type Outcome, refused } from '@underbough/model'
import { say } from './codes.ts'
import { tableFromCsv } from './csv.ts'
import { tableFromGeoJson } from './geojson.ts'
import type { Table, TableOptions } from './table-types.ts'
import { decodeText } from './text.ts'

const MAX_BYTES = 256 * 1024 * 1024
const MAX_ROWS = 2_000_000
/** Columns that `refusedAsCsv` adds and that are left out when the mended file comes back. */
export const reasonColumns = ['Refused: line', 'Refused: code', 'Refused: reason'] as const

/**
 * Reads a file into a table.
 * @param name the file's name, shown in messages and a hint at its format
 * @returns the table with file-level notes, or why it could not be read (`file-…`, `too-large`)
 */
export function readTable(bytes: Uint8Array, name: string, options: TableOptions = {}): Outcome<Table> {
  const maxBytes = options.maxBytes ?? MAX_BYTES
  if (bytes.length > maxBytes)
    return refused(
      say('too-large', '', `The file is larger than ${Math.floor(maxBytes / 1048576)} MB. Split it.`, {
        value: bytes.length,
      }),
    )
  const decoded = decodeText(bytes, options.encoding)
  if (!decoded.ok) return decoded
  const { text, encoding } = decoded.value
  const format = options.format ?? formatOf(text, name)
  const outcome = format === 'geojson' ? tableFromGeoJson(text) : tableFromCsv(text, options)
  if (!outcome.ok) return outcome
  const table: Table = { name, format, encoding, ...outcome.value }
  const maxRows = options.maxRows ?? MAX_ROWS
  if (table.rows.length > maxRows)
    return refused(
      say('too-large', '', `The file has ${table.rows.length} rows; ${maxRows} are taken at once. Split it.`),
    )
  return done(withoutReasons(table), [...decoded.notes, ...outcome.notes])
}

function formatOf(text: string, name: string): 'csv' | 'geojson' {
  if (/\.(geo)?json$/i.test(name)) return 'geojson'
  return /^\s*[{[]/.test(text.slice(0, 200)) ? 'geojson' : 'csv'
}

function withoutReasons(table: Table): Table {
  const kept = table.columns.flatMap((column, i) =>
    (reasonColumns as readonly string[]).includes(column.name) ? [] : [i],
  )
  if (kept.length === table.columns.length) return table
  return {
    ...table,
    columns: kept.map((i) => table.columns[i]!),
    rows: table.rows.map((row) => ({ ...row, cells: kept.map((i) => row.cells[i] ?? '') })),
  }
}
