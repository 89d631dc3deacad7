import { done, type Outcome, probeLimits, refusal, refused } from '@underbough/model'
import { cellsOf, isIdle, linesOf, numberIn } from './cells.ts'
import { columnNames, depthUnitIn, isDepthName, isResistanceName, unitIn } from './header.ts'
import type { Delimiter, TraceGuess } from './types.ts'

const delimiters: readonly Delimiter[] = ['\t', ';', '|', ',', 'spaces']
const marks = ['.', ','] as const
const sampleRows = 240

interface Layout {
  delimiter: Delimiter
  decimalMark: '.' | ','
  /** Cells in most rows of numbers. */
  cells: number
  /** Rows of the sample that read as numbers. */
  rows: string[][]
  /** Rows, counted fully where every cell is a number and less where a cell is not. */
  score: number
}

/** A text seen by its rows: `lines[i]` is row i + 1. */
export interface SeenText {
  lines: string[]
  layout: Layout
  /** Index of the first line that holds numbers. */
  firstLine: number
  guess: TraceGuess
}

/**
 * Guesses how the text of a drill-resistance trace is laid out: delimiter, decimal mark, header, and which columns hold depth and resistance.
 * Refusals: `file-empty`, `too-large`, `file-not-this-format`, `trace-one-column`.
 */
export function sniffTrace(raw: string): Outcome<TraceGuess> {
  const seen = seeText(raw)
  return seen.ok ? done(seen.value.guess) : seen
}

/** `sniffTrace` with what the reader needs beside the guess. */
export function seeText(raw: string): Outcome<SeenText> {
  if (raw.length > probeLimits.traceCharacters)
    return refused(
      refusal('too-large', 'raw', {
        value: raw.length,
        limit: `at most ${probeLimits.traceCharacters} characters`,
      }),
    )
  const lines = linesOf(raw)
  const busy = [...lines.keys()].filter((i) => !isIdle(lines[i]))
  const sample = sampleOf(lines, busy)
  if (sample.length === 0) return refused(refusal('file-empty', 'raw'))
  const layout = bestLayout(sample)
  if (!layout)
    return refused(
      sample.filter((line) => marks.some((mark) => numberIn(line.trim(), mark) !== undefined)).length >
        sample.length / 2
        ? refusal('trace-one-column', 'raw')
        : refusal('file-not-this-format', 'raw', {
            message:
              'No two columns of numbers were found. A trace has a depth and a resistance in every row.',
          }),
    )
  if (commasWithinNumbers(layout))
    return refused(
      refusal('file-not-this-format', 'raw', {
        message:
          'Commas stand both between the columns and within the numbers. Write the trace again with semicolons or tabs between the columns.',
      }),
    )
  return done(described(lines, busy, layout))
}

/** The beginning, where the header ends, and rows from all over the rest. */
function sampleOf(lines: string[], busy: number[]): string[] {
  const stride = Math.max(1, Math.floor(busy.length / sampleRows))
  return busy.filter((_, i) => i < 40 || i % stride === 0).map((i) => lines[i])
}

function bestLayout(sample: string[]): Layout | undefined {
  let best: Layout | undefined
  for (const delimiter of delimiters) {
    const split = sample.map((line) => cellsOf(line, delimiter))
    for (const decimalMark of marks) {
      const layout = layoutOf(split, delimiter, decimalMark)
      if (layout && layout.score > (best?.score ?? 0)) best = layout
    }
  }
  return best
}

/** Rows that start with a number somewhere and have two of them, all with the commonest count of cells. */
function layoutOf(split: string[][], delimiter: Delimiter, decimalMark: '.' | ','): Layout | undefined {
  const numeric = split.filter(
    (cells) => cells.filter((cell) => numberIn(cell, decimalMark) !== undefined).length >= 2,
  )
  const counts = new Map<number, number>()
  for (const cells of numeric) counts.set(cells.length, (counts.get(cells.length) ?? 0) + 1)
  const [cells] = [...counts].sort((a, b) => b[1] - a[1])[0] ?? []
  if (cells === undefined) return undefined
  const rows = numeric.filter((row) => row.length === cells)
  const numbers = rows.flat().filter((cell) => numberIn(cell, decimalMark) !== undefined).length
  return { delimiter, decimalMark, cells, rows, score: rows.length / 2 + numbers / cells / 2 }
}

/** `0,1,23,5`: the first cell stands still and no cell has a decimal point. */
function commasWithinNumbers({ delimiter, cells, rows }: Layout): boolean {
  if (delimiter !== ',' || cells < 3 || rows.length < 4) return false
  if (rows.some((row) => row.some((cell) => /[.,]/.test(cell)))) return false
  const still = rows.filter((row, i) => i > 0 && row[0] === rows[i - 1][0]).length
  return still > rows.length / 4
}

/** `busy` are the places of the lines that hold a row. */
function described(lines: string[], busy: number[], layout: Layout): SeenText {
  const { delimiter, decimalMark, cells, rows } = layout
  const values = rows.map((row) => row.map((cell) => numberIn(cell, decimalMark)))
  const numeric = [...Array(cells).keys()].filter(
    (column) => values.filter((row) => row[column] !== undefined).length > rows.length / 2,
  )
  const begins = (depth: number, i: number) => {
    const row = cellsOf(lines[i] ?? '', delimiter)
    return row.length >= Math.min(2, cells) && numberIn(row[depth] ?? '', decimalMark) !== undefined
  }
  const firstOf = (depth: number) => {
    const first = busy.findIndex(
      (i, k) => begins(depth, i) && (k + 1 >= busy.length || begins(depth, busy[k + 1])),
    )
    return first < 0 ? 0 : busy[first]
  }
  const header = (firstLine: number) =>
    lines
      .slice(0, firstLine)
      .filter((line) => line.trim() !== '')
      .map((line) => cellsOf(line.replace(/^\s*(?:#|\/\/)\s*/, ''), delimiter))
  const names = columnNames(header(firstOf(numeric[0] ?? 0)), cells)
  const depthColumn = depthColumnOf(numeric, names, values)
  const others = numeric.filter((column) => column !== depthColumn)
  const resistanceColumn =
    others.find((column) => isResistanceName(names[column])) ??
    others.find((column) => !risesOnly(values, column) && varies(values, column)) ??
    others[0] ??
    (depthColumn === 0 ? 1 : 0)
  const firstLine = firstOf(depthColumn)
  return {
    lines,
    layout,
    firstLine,
    guess: {
      delimiter,
      decimalMark,
      headerRows: firstLine,
      columns: names,
      depthColumn,
      resistanceColumn,
      depthUnit: depthUnitIn(names[depthColumn]),
      resistanceUnit: unitIn(names[resistanceColumn]),
      rows: busy.filter((i) => i >= firstLine).length,
    },
  }
}

type Values = (number | undefined)[][]

const column = (values: Values, at: number) =>
  values.map((row) => row[at]).filter((value): value is number => value !== undefined)
const varies = (values: Values, at: number) => new Set(column(values, at)).size > 1
const risesOnly = (values: Values, at: number) =>
  column(values, at).every((value, i, all) => i === 0 || value >= all[i - 1])

/** Named so, or the first that only rises; a plain count of rows gives way to another that rises. */
function depthColumnOf(numeric: number[], names: string[], values: Values): number {
  const named = numeric.find((at) => isDepthName(names[at]))
  if (named !== undefined) return named
  const rising = numeric.filter((at) => varies(values, at) && risesOnly(values, at))
  const isCount = (at: number) => {
    const first = column(values, at).slice(0, 30)
    return first.every((value, i) => Number.isInteger(value) && (i === 0 || value === first[i - 1] + 1))
  }
  return rising.find((at) => !isCount(at)) ?? rising[0] ?? numeric[0] ?? 0
}
