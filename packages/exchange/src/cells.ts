/** Words that stand for nothing in exports of many programs. */
const BLANK = /^(|none|null|nan|n\/a|na|nil|unknown|unbekannt|inconnu|desconocido|onbekend|-+|\?+|\\n)$/i

/** True for an empty cell and for the words that stand for one. */
export const isBlank = (cell: string | undefined): boolean => cell === undefined || BLANK.test(cell.trim())

/** Several spaces as one, none at the ends. */
export const tidy = (cell: string): string => cell.replace(/\s+/g, ' ').trim()

const FORMULA_START = /^[=+\-@\t\r]/
const PLAIN_NUMBER = /^[+-]?\d+([.,]\d+)?(e[+-]?\d+)?$/i

/** A cell that a spreadsheet would take for a formula gets an apostrophe in front; numbers stay as they are. */
export const guarded = (cell: string): string =>
  FORMULA_START.test(cell) && !PLAIN_NUMBER.test(cell) ? `'${cell}` : cell

/** Takes the apostrophe of `guarded` away again. */
export const unguarded = (cell: string): string =>
  cell.startsWith("'") && FORMULA_START.test(cell.slice(1)) ? cell.slice(1) : cell
