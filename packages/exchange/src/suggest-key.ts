import { isBlank, tidy } from './cells.ts'
import { type ColumnGuess, guess, type Sampled } from './guesses.ts'
import { AUTO_NUMBER, KEY_WORDS, PLACE_WORDS } from './header-words.ts'
import type { Table } from './table-types.ts'

const isAuto = (column: Sampled) => AUTO_NUMBER.test(column.words) || /^_id$/i.test(column.name)

/**
 * Finds what stays with a tree from one export to the next: one column of identifiers without gaps or repeats, else
 * the tree's number joined with the columns that say where it is, until nothing repeats. Row numbers of the program
 * that made the file (`OBJECTID`, `_id`) are never taken, since they change with each export.
 */
export function suggestKey(table: Table, columns: Sampled[], guesses: Map<string, ColumnGuess>): void {
  const index = new Map(table.columns.map((column, i) => [column.name, i]))
  const distinct = (names: string[]) => {
    const seen = new Set<string>()
    for (const row of table.rows)
      seen.add(names.map((name) => tidy(row.cells[index.get(name)!] ?? '')).join('\u0001'))
    return seen.size
  }
  const full = (column: Sampled) => column.blanks === 0 && column.filled.length > 0
  const free = (column: Sampled) => !guesses.has(column.name) || guesses.get(column.name)!.field === 'tag'
  const candidates = columns.filter((c) => free(c) && full(c) && !isAuto(c) && KEY_WORDS.test(c.words))
  const withLetters = (column: Sampled) => (column.filled.some((cell) => /[a-z]/i.test(cell)) ? 0 : 1)
  candidates.sort((a, b) => withLetters(a) - withLetters(b))
  const whole = candidates.find((column) => distinct([column.name]) === table.rows.length)
  if (whole) {
    guesses.set(
      whole.name,
      guess(whole, 'sourceKey', 'likely', 'Every row has another value, and the header names an identifier.'),
    )
    return
  }
  const number = columns.find((c) => guesses.get(c.name)?.field === 'tag') ?? candidates[0]
  if (number && full(number) && distinct([number.name]) === table.rows.length) {
    guesses.set(number.name, guess(number, 'sourceKey', 'likely', 'Every row has another tree number.'))
    return
  }
  const places = columns.filter((c) => !guesses.has(c.name) && PLACE_WORDS.test(c.words))
  const trial = new Map(guesses)
  const reached = number ? joined(table, number, places, trial, distinct) : 0
  if (reached < table.rows.length && nearlyWhole(table, columns, guesses, distinct)) return
  for (const [name, g] of trial) guesses.set(name, g)
}

/** An identifier with a few gaps and repeats is still the identifier; those rows will be refused and can be mended. */
const NEARLY = 0.8

function nearlyWhole(
  table: Table,
  columns: Sampled[],
  guesses: Map<string, ColumnGuess>,
  distinct: (names: string[]) => number,
): boolean {
  const column = columns.find(
    (c) =>
      !guesses.has(c.name) &&
      !isAuto(c) &&
      KEY_WORDS.test(c.words) &&
      distinct([c.name]) >= NEARLY * table.rows.length,
  )
  if (!column) return false
  const because = 'The header names an identifier; some rows repeat it or leave it blank and will be refused.'
  guesses.set(column.name, guess(column, 'sourceKey', 'guess', because))
  return true
}

function joined(
  table: Table,
  number: Sampled,
  places: Sampled[],
  guesses: Map<string, ColumnGuess>,
  distinct: (names: string[]) => number,
): number {
  const parts = [number]
  let reached = distinct([number.name])
  while (reached < table.rows.length) {
    let best: Sampled | null = null
    for (const place of places) {
      if (parts.includes(place)) continue
      const count = distinct([...parts, place].map((c) => c.name))
      if (count > reached) [best, reached] = [place, count]
    }
    if (!best) break
    parts.push(best)
  }
  if (parts.length === 1 || number.filled.every(isBlank)) return reached
  const names = parts.map((c) => `“${c.name}”`).join(', ')
  const repeats = table.rows.length - reached
  const because =
    repeats === 0
      ? `Only ${names} together are different on every row.`
      : `${names} together repeat on ${repeats} rows.`
  for (const part of parts)
    guesses.set(part.name, guess(part, 'sourceKeyPart', repeats === 0 ? 'likely' : 'guess', because))
  return reached
}
