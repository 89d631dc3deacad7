import {
  CM_PER_INCH,
  diameterFromCircumference,
  M_PER_FOOT,
  type Refusal,
  type Stem,
  treeLimits,
} from '@underbough/model'
import { isBlank } from './cells.ts'
import { say } from './codes.ts'
import { parseNumber } from './numbers.ts'

/** Thicker stems exist but are rare enough in streets and parks to be a slip of the pen more often. Assumption. */
const UNUSUAL_DIAMETER_CM = 300
const MAX_STEMS = 30

const toCm: Record<string, number> = { cm: 1, mm: 0.1, m: 100, in: CM_PER_INCH, '"': CM_PER_INCH }
const toM: Record<string, number> = { m: 1, ft: M_PER_FOOT, "'": M_PER_FOOT, cm: 0.01 }

/** A value with the notes that reading it left; `null` while unknown. */
export interface Read<T> {
  value: T | null
  notes: Refusal[]
}

/** A number with its unit; the cell's own unit, where written, is believed over the column's. */
function quantity(
  cell: string,
  unit: string,
  factors: Record<string, number>,
  decimalComma: boolean,
): number | null {
  const match = /^(.*?[\d.,])\s*([a-z"]+)?\.?$/i.exec(cell.trim())
  const factor = factors[match?.[2]?.toLowerCase() ?? unit]
  const n = match && factor !== undefined ? parseNumber(match[1]!, decimalComma) : null
  return n === null ? null : Math.round(n * factor! * 1e6) / 1e6
}

const unreadable = (column: string, cell: string) =>
  say('number-unreadable', column, `“${cell.slice(0, 40)}” is not one number, so the value stays unknown.`, {
    value: cell.slice(0, 200),
  })

export const blankNote = (column: string, what: string) =>
  say('value-blank', column, `The ${what} is blank and stays unknown.`)

/**
 * Stems from a cell: one diameter or circumference, or several parted by `/`, `+`, `;` or `&`.
 * A value that no tree can have leaves the stem unknown with the note `diameter-implausible`: losing the tree over
 * its diameter would be worse. Zero is what many lists write for “not measured”.
 */
export function readStems(
  cell: string,
  column: string,
  kind: 'diameter' | 'circumference',
  { unit, measuredAtM, decimalComma }: { unit: string; measuredAtM: number; decimalComma: boolean },
): Read<Stem[]> {
  if (isBlank(cell)) return { value: null, notes: [blankNote(column, kind)] }
  const stems: Stem[] = []
  for (const part of cell.split(/[/+;&]/)) {
    const cm = quantity(part, unit, toCm, decimalComma)
    if (cm === null) return { value: null, notes: [unreadable(column, cell)] }
    const diameterCm = kind === 'diameter' ? cm : Math.round(diameterFromCircumference(cm) * 100) / 100
    if (diameterCm <= 0 || diameterCm > treeLimits.stemDiameterCm)
      return { value: null, notes: [implausible(column, cell, kind)] }
    stems.push({ diameterCm, measuredAtM })
  }
  if (stems.length > MAX_STEMS) return { value: null, notes: [unreadable(column, cell)] }
  const thick = stems.some((stem) => stem.diameterCm > UNUSUAL_DIAMETER_CM)
  return { value: stems, notes: thick ? [unusual(column, cell)] : [] }
}

const implausible = (column: string, cell: string, kind: string) =>
  say('diameter-implausible', column, `No tree has a ${kind} of ${cell.slice(0, 40)}; it stays unknown.`, {
    value: cell,
    limit: `above 0, at most ${treeLimits.stemDiameterCm} cm`,
  })

const unusual = (column: string, cell: string) =>
  say('diameter-unusual', column, `A diameter of ${cell.slice(0, 40)} is kept, but is it right?`, {
    value: cell,
    limit: `usually at most ${UNUSUAL_DIAMETER_CM} cm`,
  })

/** A length in metres between 0 (left out unless `zeroAllowed`) and `maxM`; beyond it the value stays unknown. */
export function readLengthM(
  cell: string,
  column: string,
  options: {
    unit: string
    decimalComma: boolean
    maxM: number
    code: 'height-implausible' | 'out-of-range'
    zeroAllowed?: boolean
  },
): Read<number> {
  if (isBlank(cell)) return { value: null, notes: [] }
  const m = quantity(cell, options.unit, toM, options.decimalComma)
  if (m === null) return { value: null, notes: [unreadable(column, cell)] }
  if (m === 0 && !options.zeroAllowed) return { value: null, notes: [blankNote(column, 'value')] }
  if (m < 0 || m > options.maxM)
    return {
      value: null,
      notes: [
        say(options.code, column, `${cell.slice(0, 40)} is outside what is possible, so it stays unknown.`, {
          value: cell,
          limit: `at most ${options.maxM} m`,
        }),
      ],
    }
  return { value: m, notes: [] }
}

/** A year out of a year, a date or a date with its time, in any of the usual orders. */
export function readYear(cell: string, column: string): Read<number> {
  if (isBlank(cell) || /^0+([.,]0+)?$/.test(cell)) return { value: null, notes: [] }
  const found = /(?:^|\D)(\d{4})(?:\D|$)/.exec(cell)?.[1]
  if (!found) return { value: null, notes: [unreadable(column, cell)] }
  const year = Number(found)
  if (year >= 1000 && year <= 2200) return { value: year, notes: [] }
  return {
    value: null,
    notes: [
      say('out-of-range', column, `No tree was planted in ${year}.`, { value: cell, limit: '1000 to 2200' }),
    ],
  }
}

/** A whole number of trees. */
export function readCount(cell: string, column: string, decimalComma: boolean): Read<number> {
  if (isBlank(cell)) return { value: null, notes: [] }
  const n = parseNumber(cell, decimalComma)
  if (n === null) return { value: null, notes: [unreadable(column, cell)] }
  if (Number.isInteger(n) && n >= 0 && n <= 100_000) return { value: n, notes: [] }
  return {
    value: null,
    notes: [
      say('out-of-range', column, `${cell} is no number of trees.`, { value: cell, limit: '1 to 100000' }),
    ],
  }
}
