import type { Refusal, RefusalCode } from '@underbough/model'
import type { TraceColumns, TraceHints } from '@underbough/wood'
import type { TraceValues } from './values.ts'

/** What the person said of the text's columns; null while the unit of depth is not said. */
export const columnsOf = ({ depthUnit, depthColumn, resistanceColumn }: TraceValues): TraceColumns | null =>
  depthUnit ? { depthUnit, depthColumn, resistanceColumn } : null
export const barkHintOf = ({ barkCm }: Pick<TraceValues, 'barkCm'>): TraceHints =>
  barkCm === null ? {} : { barkHintCm: barkCm }

/** A fault of a trace's text: where, what stands there, and what to do. */
export interface FaultRow {
  /** Row of the text from 1; null where the fault is the whole text's. */
  row: number | null
  stands: string
  what: string
  todo: string
}

const todos: Partial<Record<RefusalCode, string>> = {
  'trace-text': 'Put the number there, or take out the row if it holds a remark.',
  'number-unreadable': 'Write it as one number, with one decimal mark.',
  'trace-resistance-missing': 'Put in the resistance, or take out the row if nothing was measured.',
  'trace-depth-backwards': 'Leave each trace in a file of its own, with depths that rise.',
  'out-of-range': 'Look at the unit of depth chosen below, then at this row.',
  'column-count': 'Look for a decimal comma or a missing mark between the columns.',
  'column-missing': 'Choose other columns below.',
  'trace-one-column': 'Choose two different columns below; a file with one column lacks the depth.',
  'trace-too-short': 'Choose the file with the whole trace.',
  'trace-too-long': 'Choose a file with one trace only.',
  'too-large': 'Choose a file with one trace only.',
  'file-empty': 'Choose another file.',
  'file-not-this-format': 'Write the trace from the instrument as plain text with columns.',
}

/** The faults found in a trace, row by row, with the text that stands there. */
export function faultRows(raw: string, refusals: readonly Refusal[]): FaultRow[] {
  const lines = raw.split(/\r\n|\n|\r/)
  return refusals.map(({ code, path, message }) => {
    const row = /^row (\d+)$/.exec(path)?.[1]
    return {
      row: row ? Number(row) : null,
      stands: row ? (lines[Number(row) - 1] ?? '').trim().slice(0, 80) : '',
      what: message,
      todo: todos[code] ?? 'Correct the file and choose it again.',
    }
  })
}

/** The text of a file: UTF-16 where its first bytes say so, otherwise UTF-8. */
export function textOf(bytes: ArrayBuffer): string {
  const [a, b] = new Uint8Array(bytes.slice(0, 2))
  const coding = a === 0xff && b === 0xfe ? 'utf-16le' : a === 0xfe && b === 0xff ? 'utf-16be' : 'utf-8'
  return new TextDecoder(coding).decode(bytes)
}
