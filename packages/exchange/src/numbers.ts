const PLAIN = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i
const COMMA = /^[+-]?\d*,\d+$/
const DOT_THOUSANDS = /^[+-]?\d{1,3}(\.\d{3})+(,\d+)?$/
const COMMA_THOUSANDS = /^[+-]?\d{1,3}(,\d{3})+(\.\d+)?$/

/** True for a cell that is a number and nothing else, with either decimal sign. */
export const isBareNumber = (cell: string): boolean => PLAIN.test(cell.trim()) || COMMA.test(cell.trim())

/**
 * A number as people write it: spaces and apostrophes between thousands, a decimal comma where the file has one or
 * where nothing else is possible. `null` for anything else (a range, a word).
 * @param decimalComma how to take what could be either: `1.234` is 1234 with it and 1.234 without
 */
export function parseNumber(cell: string, decimalComma: boolean): number | null {
  const text = cell.replace(/[\s'’]/g, '')
  if (decimalComma && DOT_THOUSANDS.test(text)) return Number(text.replaceAll('.', '').replace(',', '.'))
  if (decimalComma && COMMA.test(text)) return Number(text.replace(',', '.'))
  if (!decimalComma && COMMA_THOUSANDS.test(text)) return Number(text.replaceAll(',', ''))
  if (PLAIN.test(text)) return finite(Number(text))
  if (COMMA.test(text)) return Number(text.replace(',', '.'))
  return null
}

const finite = (n: number) => (Number.isFinite(n) ? n : null)
