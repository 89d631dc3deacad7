import Papa from 'papaparse'
import { guarded } from './cells.ts'
import type { RowVerdict } from './row-verdict.ts'
import { reasonColumns } from './table.ts'

/**
 * The refused rows as CSV (RFC 4180), every cell as it came, with three columns that say where and why. Mended and
 * read again, those columns are left out by themselves.
 * @param columns names and order of the file's columns; the first row's own where left out
 */
export function refusedAsCsv(rows: readonly RowVerdict[], columns?: readonly string[]): string {
  const refused = rows.filter((row) => row.verdict === 'refused')
  const names = columns ?? Object.keys(rows[0]?.raw ?? {})
  const data = refused.map((row) => [
    ...names.map((name) => guarded(row.raw[name] ?? '')),
    String(row.line),
    row.notes.map((note) => note.code).join(' '),
    row.notes.map((note) => note.message).join(' '),
  ])
  return Papa.unparse({ fields: [...names, ...reasonColumns], data }, { newline: '\r\n' })
}
