import type { Delimiter } from './types.ts'

const plainNumber = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i

/** Lines of a text, whatever ends them; a byte order mark is left out. */
export function linesOf(raw: string): string[] {
  return raw.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/)
}

/** A line that holds no row: blank, a comment, or nothing but delimiters. */
export function isIdle(line: string): boolean {
  const first = line.charCodeAt(0)
  // Most lines begin with a digit; no pattern is asked for those.
  if (first >= 48 && first <= 57) return false
  return /^[\s,;|"]*$/.test(line) || /^\s*(?:#|\/\/)/.test(line)
}

/** Cells of a line, trimmed, without their quotes. */
export function cellsOf(line: string, delimiter: Delimiter): string[] {
  if (line.includes('"')) return quotedCells(line, delimiter)
  if (delimiter === 'spaces') return line.trim().split(/\s+/)
  const cells = line.split(delimiter)
  for (let i = 0; i < cells.length; i++) cells[i] = cells[i].trim()
  return cells
}

function quotedCells(line: string, delimiter: Delimiter): string[] {
  const cells: string[] = []
  let cell = ''
  let quoted = false
  for (const letter of delimiter === 'spaces' ? line.trim().replace(/\s+/g, ' ') : line) {
    if (letter === '"') quoted = !quoted
    else if (!quoted && letter === (delimiter === 'spaces' ? ' ' : delimiter)) {
      cells.push(cell.trim())
      cell = ''
    } else cell += letter
  }
  return [...cells, cell.trim()]
}

/** The number in a cell, or undefined. With a decimal comma a point is not taken, so that thousands are never misread. */
export function numberIn(cell: string, decimalMark: '.' | ','): number | undefined {
  let plain = cell.charCodeAt(0) === 0x2212 ? `-${cell.slice(1)}` : cell
  if (decimalMark === ',') {
    if (plain.includes('.')) return undefined
    plain = plain.replace(',', '.')
  }
  return plainNumber.test(plain) ? Number(plain) : undefined
}
