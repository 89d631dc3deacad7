import { done, type Outcome, type Refusal, refused } from '@underbough/model'
import Papa from 'papaparse'
import { unguarded } from './cells.ts'
import { say } from './codes.ts'
import { isBareNumber } from './numbers.ts'
import type { Column, Table, TableOptions, TableRow } from './table-types.ts'

type CsvTable = Pick<Table, 'delimiter' | 'crs' | 'columns' | 'rows'>

const DELIMITERS = [',', ';', '\t', '|']
/** Below this share of rows of one length the text is not a table. Assumption. */
const SAME_LENGTH_SHARE = 0.5

/** Comma-separated values (RFC 4180), with the delimiters, headers and ragged rows that real exports have. */
export function tableFromCsv(text: string, options: TableOptions): Outcome<CsvTable> {
  const { body, skippedLines, stated } = withoutSeparatorLine(text)
  const delimiter = options.delimiter ?? stated ?? guessDelimiter(body)
  const parsed = Papa.parse<string[]>(body, { delimiter, header: false })
  const open = parsed.errors.find((error) => error.code === 'MissingQuotes')
  if (open)
    return refused(
      say('file-not-this-format', '', 'A quotation mark is opened and never closed. Export the file again.', {
        value: open.row,
      }),
    )
  const records = numbered(parsed.data, skippedLines + 1)
  if (records.length === 0) return refused(say('file-empty', '', 'The file holds nothing.'))
  const hasHeader = options.hasHeader ?? looksLikeHeader(records[0]!.cells)
  const header = hasHeader ? records[0]!.cells : []
  const rows = hasHeader ? records.slice(1) : records
  if (rows.length === 0)
    return refused(
      say('file-header-only', '', 'The file has a header and no rows. Export it again with its trees.'),
    )
  const usual = usualLength(rows)
  if (rows.length > 3 && usual.share < SAME_LENGTH_SHARE)
    return refused(
      say('file-not-this-format', '', 'The rows have all sorts of lengths, so this is not a table.', {
        limit: `at least half of the rows of one length`,
      }),
    )
  if (usual.length < 2)
    return refused(
      say(
        'file-not-this-format',
        '',
        'No delimiter parts the cells. Choose it, or export the file again as CSV.',
      ),
    )
  return shaped(
    rows,
    columnsOf(header, Math.max(header.length, usual.length)),
    hasHeader,
    header.length,
    delimiter,
  )
}

function shaped(
  rows: TableRow[],
  columns: Column[],
  hasHeader: boolean,
  named: number,
  delimiter: string,
): Outcome<CsvTable> {
  const notes: Refusal[] = []
  if (hasHeader && columns.length > named)
    notes.push(
      say(
        'column-count',
        '',
        `Most rows have ${columns.length} cells and the header ${named}; the rest were numbered. Columns may have slipped.`,
        { value: columns.length, limit: `${named} in the header` },
      ),
    )
  for (const row of rows) {
    if (row.cells.length !== columns.length)
      row.notes.push(
        say('column-count', '', `This row has ${row.cells.length} cells; ${columns.length} belong in it.`, {
          value: row.cells.length,
          limit: `${columns.length}`,
        }),
      )
    while (row.cells.length < columns.length) row.cells.push('')
    row.cells.length = columns.length
  }
  return done({ delimiter, crs: null, columns, rows }, notes)
}

/** Lines as a person counts them: a quoted cell may hold line breaks, and blank lines count too. */
function numbered(data: string[][], firstLine: number): TableRow[] {
  const rows: TableRow[] = []
  let line = firstLine
  for (const record of data) {
    if (record.some((cell) => cell.trim() !== ''))
      rows.push({ line, cells: record.map((cell) => unguarded(cell).trim()), notes: [] })
    line++
    for (const cell of record) if (cell.includes('\n')) line += cell.split('\n').length - 1
  }
  return rows
}

/** Spreadsheets may write `sep=;` above the header. */
function withoutSeparatorLine(text: string): { body: string; skippedLines: number; stated?: string } {
  const match = /^sep=(.)\r?\n/i.exec(text)
  return match
    ? { body: text.slice(match[0].length), skippedLines: 1, stated: match[1]! }
    : { body: text, skippedLines: 0 }
}

/** The delimiter that gives the header the most cells, among those with which the rows agree. */
function guessDelimiter(text: string): string {
  const start = text.slice(0, 200_000)
  let best = { delimiter: ',', agree: 0, cells: 1 }
  for (const delimiter of DELIMITERS) {
    const { data } = Papa.parse<string[]>(start, { delimiter, preview: 60 })
    const rows = data.filter((cells) => cells.some((cell) => cell.trim() !== ''))
    const cells = rows[0]?.length ?? 0
    if (cells < 2) continue
    const usual = usualLength(rows.slice(1).map((row) => ({ cells: row })))
    const agree = rows.length < 2 ? 1 : usual.length >= cells ? Math.round(usual.share * 4) : 0
    if (agree > best.agree || (agree === best.agree && cells > best.cells)) best = { delimiter, agree, cells }
  }
  return best.delimiter
}

function usualLength(rows: { cells: string[] }[]): { length: number; share: number } {
  const counts = new Map<number, number>()
  for (const row of rows) counts.set(row.cells.length, (counts.get(row.cells.length) ?? 0) + 1)
  let length = 0
  let most = 0
  for (const [n, times] of counts) if (times > most) [length, most] = [n, times]
  return { length, share: rows.length === 0 ? 0 : most / rows.length }
}

/** A row of names holds no numbers; one third of numbers is taken for data. Assumption. */
function looksLikeHeader(cells: string[]): boolean {
  const filled = cells.filter((cell) => cell !== '')
  return filled.filter(isBareNumber).length * 3 < filled.length
}

function columnsOf(header: string[], count: number): Column[] {
  const used = new Set<string>()
  return Array.from({ length: count }, (_, i) => {
    const { name, typeHint } = nameAndType(header[i] ?? '')
    const base = name || `Column ${i + 1}`
    let unique = base
    for (let n = 2; used.has(unique); n++) unique = `${base} (${n})`
    used.add(unique)
    return { name: unique, typeHint }
  })
}

/** Header cells of tables that come from dBASE carry type and width: `baumnummer,C,20`, `hochwert,N,19,11`. */
function nameAndType(cell: string): Column {
  const match = /^(.+?)\s*,\s*([A-Z](?:,\d+){1,2})$/.exec(cell)
  return match
    ? { name: match[1]!, typeHint: match[2]! }
    : { name: cell.replace(/\s+/g, ' '), typeHint: null }
}
