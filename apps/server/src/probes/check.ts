import { type BordersInput, type ProbeInput, type ProbeOf, type Refusal, refusal } from '@underbough/model'
import { readTrace } from '@underbough/wood'
import { unstorable } from '../http/unstorable.ts'

/** What needs more than its shape to be found out about a reading; empty where nothing is wrong. */
export function wrongWithReading(input: ProbeInput): Refusal[] {
  const wrong = unstorable(input)
  if (wrong.length > 0 || input.kind !== 'drill-trace') return wrong
  const read = readTrace(input.reading.raw, input.reading)
  return read.ok ? [] : read.refusals.map((one) => ({ ...one, path: pathOf(one.path) }))
}

/** Borders end where the trace ends: beyond it nothing was measured. */
export function wrongWithBorders(input: BordersInput, { raw, ...columns }: TraceReading): Refusal[] {
  const read = readTrace(raw, columns)
  const endCm = read.ok ? (read.value.depthsCm.at(-1) ?? 0) : 0
  const past = input.segments.findIndex(({ toCm }) => toCm > endCm + roundingCm)
  if (past < 0) return unstorable(input)
  return [
    refusal('out-of-range', `segments.${past}.toCm`, {
      value: input.segments[past]!.toCm,
      limit: `at most ${endCm.toFixed(1)} cm`,
      message: `The trace ends at ${endCm.toFixed(1)} cm; beyond it nothing was measured.`,
    }),
  ]
}

type TraceReading = ProbeOf<'drill-trace'>['reading']
const roundingCm = 0.1

/** A column is named in the reading; everything else is in its text, where a row is named by its number. */
const pathOf = (path: string) =>
  path.startsWith('row') ? `reading.raw.${path}` : ['reading', path].filter(Boolean).join('.')
