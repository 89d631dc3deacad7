import type { TreeMapping } from '@underbough/model'
import { tidy } from './cells.ts'
import type { Guessed, OrganisationDefaults, Sampled } from './guesses.ts'
import { parseNumber } from './numbers.ts'
import { looksBotanical } from './species.ts'

/** Whether fractions are written with a comma. */
export function decimalComma(columns: Sampled[]): Guessed<boolean> {
  let commas = 0
  let dots = 0
  for (const cell of columns.flatMap((c) => c.filled)) {
    if (/^[+-]?\d+,\d+$/.test(cell) || /^[+-]?\d{1,3}(\.\d{3})+,\d+$/.test(cell)) commas++
    else if (/^[+-]?\d+\.\d+$/.test(cell)) dots++
  }
  if (commas === 0 && dots === 0)
    return { value: false, confidence: 'guess', because: 'No number has a fraction.' }
  const value = commas > dots
  const mixed = commas > 0 && dots > 0
  return {
    value,
    confidence: mixed ? 'guess' : 'sure',
    because: `${Math.max(commas, dots)} numbers have a decimal ${value ? 'comma' : 'point'}${mixed ? ` and ${Math.min(commas, dots)} the other sign` : ''}.`,
  }
}

/** Unit of diameters: by the header, else by the size of the middle value. */
export function diameterUnit(
  diameter: Sampled | null,
  girth: Sampled | null,
  comma: boolean,
  defaults: OrganisationDefaults,
): Guessed<TreeMapping['diameterUnit']> {
  const column = diameter ?? girth
  if (!column) return { value: 'cm', confidence: 'none', because: 'No column holds a diameter.' }
  const stated = /\b(cm|mm|in|inch|inches|zoll|m)$/.exec(column.words)?.[1]
  if (stated) {
    const value = /^(in|zoll)/.test(stated) ? 'in' : (stated as 'cm' | 'mm' | 'm')
    return { value, confidence: 'sure', because: `The header “${column.name}” ends in the unit.` }
  }
  const middle = medianOf(column, comma) / (diameter ? 1 : Math.PI)
  if (middle > 250)
    return { value: 'mm', confidence: 'likely', because: `The middle value is ${round(middle)} across.` }
  if (middle > 0 && middle < 2.5)
    return { value: 'm', confidence: 'likely', because: `The middle value is ${round(middle)} across.` }
  const value = defaults.units === 'metric' ? 'cm' : 'in'
  return {
    value,
    confidence: 'guess',
    because: `The file does not say; the middle value is ${round(middle)} across, and ${value} is usual here.`,
  }
}

/** Unit of heights and crowns: by the header, else what is usual here. */
export function heightUnit(
  column: Sampled | null,
  defaults: OrganisationDefaults,
): Guessed<TreeMapping['heightUnit']> {
  const stated = column && /\b(m|meters?|metres?|ft|feet)$/.exec(column.words)?.[1]
  if (stated)
    return {
      value: stated.startsWith('f') ? 'ft' : 'm',
      confidence: 'sure',
      because: `The header “${column.name}” ends in the unit.`,
    }
  const value = defaults.units === 'metric' ? 'm' : 'ft'
  return {
    value,
    confidence: column ? 'guess' : 'none',
    because: column ? `The file does not say; ${value} is usual here.` : 'No column holds a height.',
  }
}

/** Whether a species cell holds two names, which comes first, and what parts them. */
export function speciesOrder(
  column: Sampled | null,
): Guessed<{ order: TreeMapping['speciesOrder']; separator: string }> {
  const plain = { order: 'botanical' as const, separator: '' }
  if (!column || column.filled.length === 0)
    return { value: plain, confidence: 'none', because: 'No column holds a species.' }
  for (const separator of [',', ' - ', ' / ', '(', ';', '|']) {
    const halves = column.filled.flatMap((cell) => {
      const at = cell.indexOf(separator)
      return at < 0 ? [] : [[tidy(cell.slice(0, at)), tidy(cell.slice(at + separator.length))] as const]
    })
    if (halves.length < column.filled.length * 0.5) continue
    const first = halves.filter(([a]) => looksBotanical(a, true)).length
    const second = halves.filter(([, b]) => looksBotanical(b, true)).length
    if (Math.max(first, second) < halves.length * 0.5) continue
    const order = first >= second ? 'botanical-then-common' : 'common-then-botanical'
    return {
      value: { order, separator },
      confidence: 'likely',
      because: `Most cells hold two names parted by “${separator.trim()}”, such as “${column.filled.find((cell) => cell.includes(separator))!.slice(0, 60)}”.`,
    }
  }
  return { value: plain, confidence: 'likely', because: 'Most cells hold one name.' }
}

function medianOf(column: Sampled, comma: boolean): number {
  const values = column.filled
    .flatMap((cell) => parseNumber(cell.replace(/[^\d.,+-].*$/, ''), comma) ?? [])
    .filter((n) => n > 0)
  values.sort((a, b) => a - b)
  return values[values.length >> 1] ?? 0
}

const round = (n: number) => Math.round(n * 10) / 10
