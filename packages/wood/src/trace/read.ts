import { done, type Outcome, probeLimits, type Refusal, refusal, refused } from '@underbough/model'
import { cellsOf, isIdle, numberIn } from './cells.ts'
import { type SeenText, seeText } from './sniff.ts'
import type { DepthUnit, Trace, TraceColumns } from './types.ts'

/** Rows taken, and what a resistance may be in the instrument's unit. */
export const traceLimits = { leastRows: 20, rows: 60_000, resistance: 1e9, faultsTold: 20 } as const

/** Exact by definition of the inch (international yard and pound agreement, 1959). */
const cmIn: Readonly<Record<DepthUnit, number>> = { mm: 0.1, cm: 1, in: 2.54 }

/**
 * Reads the text of a drill-resistance trace: any delimiter, decimal comma or point, header rows before the numbers.
 *
 * Rows of one depth (the drill stood still) become one point with their mean resistance; a note `trace-depth-repeated` says so.
 * A fault's path is its row in the text, `row 17`, counted from 1; the first twenty are told.
 *
 * Refusals: those of `sniffTrace`, `column-missing`, `column-count`, `trace-one-column`, `trace-text`, `number-unreadable`,
 * `trace-resistance-missing`, `trace-depth-backwards`, `out-of-range`, `trace-too-short` (under 20 rows), `trace-too-long` (over 60,000).
 */
export function readTrace(raw: string, columns: TraceColumns): Outcome<Trace> {
  const seen = seeText(raw)
  if (!seen.ok) return seen
  const faults = columnFaults(columns, seen.value.layout.cells)
  if (faults.length > 0) return refused(...faults)
  const { rows } = seen.value.guess
  if (rows > traceLimits.rows)
    return refused(
      refusal('trace-too-long', 'raw', { value: rows, limit: `at most ${traceLimits.rows} rows` }),
    )
  return readRows(seen.value, columns)
}

function columnFaults({ depthColumn, resistanceColumn }: TraceColumns, cells: number): Refusal[] {
  if (depthColumn === resistanceColumn) return [refusal('trace-one-column', 'resistanceColumn')]
  return Object.entries({ depthColumn, resistanceColumn })
    .filter(([, column]) => !(Number.isInteger(column) && column >= 0 && column < cells))
    .map(([path, value]) => refusal('column-missing', path, { value, limit: `0 to ${cells - 1}` }))
}

function readRows({ lines, layout, firstLine, guess }: SeenText, columns: TraceColumns): Outcome<Trace> {
  const perUnit = cmIn[columns.depthUnit]
  const depthsCm = new Float64Array(guess.rows)
  const resistances = new Float64Array(guess.rows)
  const faults: Refusal[] = []
  let count = 0
  let atThisDepth = 1
  let repeated = 0
  for (let i = firstLine; i < lines.length && faults.length < traceLimits.faultsTold; i++) {
    if (isIdle(lines[i])) continue
    const row = cellsOf(lines[i], layout.delimiter)
    const read = readRow(row, layout, columns)
    if (!('depth' in read)) {
      faults.push({ ...read, path: `row ${i + 1}` })
      continue
    }
    const depthCm = read.depth * perUnit
    if (!(depthCm >= 0 && depthCm <= probeLimits.depthCm)) {
      const limit = `0 to ${probeLimits.depthCm} cm`
      faults.push(refusal('out-of-range', `row ${i + 1}`, { value: row[columns.depthColumn], limit }))
      continue
    }
    const before = count > 0 ? depthsCm[count - 1] : Number.NEGATIVE_INFINITY
    if (depthCm < before) {
      faults.push(
        refusal('trace-depth-backwards', `row ${i + 1}`, {
          value: row[columns.depthColumn],
          message: `The depth goes back to ${row[columns.depthColumn]}.`,
        }),
      )
    } else if (depthCm === before) {
      atThisDepth += 1
      repeated += 1
      resistances[count - 1] += (read.resistance - resistances[count - 1]) / atThisDepth
    } else {
      depthsCm[count] = depthCm
      resistances[count] = read.resistance
      atThisDepth = 1
      count += 1
    }
  }
  if (faults.length > 0) return refused(...faults)
  if (count < traceLimits.leastRows)
    return refused(
      refusal('trace-too-short', 'raw', { value: count, limit: `at least ${traceLimits.leastRows} depths` }),
    )
  const notes = repeated > 0 ? [refusal('trace-depth-repeated', 'raw', { value: repeated })] : []
  return done({ depthsCm: depthsCm.slice(0, count), resistances: resistances.slice(0, count) }, notes)
}

function readRow(
  row: string[],
  { delimiter, decimalMark, cells }: SeenText['layout'],
  { depthColumn, resistanceColumn }: TraceColumns,
): { depth: number; resistance: number } | Refusal {
  const depthCell = row[depthColumn] ?? ''
  const resistanceCell = row[resistanceColumn] ?? ''
  const depth = numberIn(depthCell, decimalMark)
  if (depth === undefined) return cellFault(depthCell)
  if (resistanceCell === '') return refusal('trace-resistance-missing', '', { value: resistanceCell })
  const resistance = numberIn(resistanceCell, decimalMark)
  if (resistance === undefined) return cellFault(resistanceCell)
  // Between commas a cell too many or too few may be a decimal comma: better refused than misread.
  if (delimiter === ',' && row.length !== cells)
    return refusal('column-count', '', { value: row.length, limit: `${cells} cells` })
  if (Math.abs(resistance) > traceLimits.resistance)
    return refusal('out-of-range', '', { value: resistanceCell, limit: `at most ${traceLimits.resistance}` })
  return { depth, resistance }
}

/** Words are text; a cell with digits in it is a number nobody can read for certain. */
function cellFault(cell: string): Refusal {
  return refusal(/\d/.test(cell) ? 'number-unreadable' : 'trace-text', '', { value: cell })
}
