import type { TreeField, TreeMapping } from '@underbough/model'
import { isBlank } from './cells.ts'
import {
  type ColumnGuess,
  type Guess,
  guess,
  type MappingSuggestion,
  type OrganisationDefaults,
  type Sampled,
} from './guesses.ts'
import { AUTO_NUMBER, headerWords, plainWords } from './header-words.ts'
import { isBareNumber, parseNumber } from './numbers.ts'
import { looksBotanical } from './species.ts'
import { suggestCrs } from './suggest-crs.ts'
import { suggestKey } from './suggest-key.ts'
import { decimalComma, diameterUnit, heightUnit, speciesOrder } from './suggest-units.ts'
import type { Table } from './table-types.ts'

const SAMPLE_ROWS = 2000

/**
 * Guesses what each column holds and in which units, by the words of the header (English, German, French, Spanish,
 * Dutch) and by the values. Every guess carries its reason; a person confirms before anything is read.
 */
export function suggestMapping(table: Table, defaults: OrganisationDefaults): MappingSuggestion {
  const columns = sampled(table)
  const guesses = new Map<string, ColumnGuess>()
  const taken = new Set<TreeField>()
  for (const [field, pattern] of headerWords) {
    const matching = columns.filter((c) => !guesses.has(c.name) && pattern.test(c.words) && holds(field, c))
    const column = matching.find((c) => c.filled.length > 0) ?? matching[0]
    if (!column || (taken.has(field) && field !== 'note')) continue
    taken.add(field)
    guesses.set(column.name, guess(column, field, 'likely', `The header “${column.name}” says so.`))
  }
  byValues(columns, guesses, taken)
  if (taken.has('geometry'))
    for (const g of guesses.values())
      if (g.field === 'x' || g.field === 'y') ignore(g, 'The geometry column holds the position already.')
  suggestKey(table, columns, guesses)
  const all = columns.map((c) => guesses.get(c.name) ?? leftOut(c))
  return withSettings(table, columns, all, defaults)
}

function sampled(table: Table): Sampled[] {
  const step = Math.max(1, Math.floor(table.rows.length / SAMPLE_ROWS))
  const rows = table.rows.filter((_, i) => i % step === 0)
  return table.columns.map(({ name }, i) => {
    const cells = rows.map((row) => row.cells[i] ?? '')
    const filled = cells.filter((cell) => !isBlank(cell))
    return { name, words: plainWords(name), filled, blanks: cells.length - filled.length }
  })
}

function ignore(guessed: ColumnGuess, because: string): void {
  guessed.field = 'ignore'
  guessed.because = because
}

function leftOut(column: Sampled): ColumnGuess {
  if (column.filled.length === 0) return guess(column, 'ignore', 'sure', 'Every cell looked at is blank.')
  if (AUTO_NUMBER.test(column.words) || /^_id$/i.test(column.name))
    return guess(column, 'ignore', 'likely', 'Numbers of this name are given anew with each export.')
  return guess(column, 'ignore', 'none', 'Neither the header nor the values tell what this is.')
}

const numberFields: TreeField[] = [
  'x',
  'y',
  'height',
  'crownBaseHeight',
  'crownDiameter',
  'crownRadius',
  'count',
]

/** A header may promise what the cells do not keep: a “diameter” column of words is not one. */
function holds(field: TreeField, column: Sampled): boolean {
  if (column.filled.length === 0) return true
  const share = (test: (cell: string) => boolean) => column.filled.filter(test).length / column.filled.length
  if (numberFields.includes(field))
    return share((cell) => parseNumber(cell.replace(/[a-z"']+$/i, ''), true) !== null) > 0.7
  if (field === 'diameter' || field === 'circumference') return share((cell) => /^\d/.test(cell)) > 0.5
  if (field === 'species' || field === 'commonName') return share(isBareNumber) < 0.2
  if (field === 'geometry') return share(isGeometryText) > 0.5
  if (field === 'status') return new Set(column.filled).size <= 40
  return true
}

const isGeometryText = (cell: string) =>
  /^\{\s*"type"/.test(cell) ||
  /^(SRID=\d+;)?(multi)?point/i.test(cell) ||
  /^\(?-?\d+\.\d+\s*[,; ]\s*-?\d+\.\d+\)?$/.test(cell)

function byValues(columns: Sampled[], guesses: Map<string, ColumnGuess>, taken: Set<TreeField>): void {
  for (const column of columns) {
    if (guesses.has(column.name) || column.filled.length === 0) continue
    const share = (test: (cell: string) => boolean) =>
      column.filled.filter(test).length / column.filled.length
    if (!taken.has('geometry') && share(isGeometryText) > 0.9) {
      taken.add('geometry')
      guesses.set(column.name, guess(column, 'geometry', 'likely', 'Its cells hold points.'))
    } else if (!taken.has('species') && share((cell) => looksBotanical(cell, true)) > 0.8) {
      taken.add('species')
      guesses.set(column.name, guess(column, 'species', 'guess', 'Its cells look like botanical names.'))
    }
  }
}

function withSettings(
  table: Table,
  columns: Sampled[],
  guesses: ColumnGuess[],
  defaults: OrganisationDefaults,
): MappingSuggestion {
  const of = (field: TreeField) => {
    const name = guesses.find((g) => g.field === field)?.column
    return columns.find((c) => c.name === name) ?? null
  }
  const comma = decimalComma(
    columns.filter((c) => guesses.some((g) => g.column === c.name && isNumeric(g.field))),
  )
  const unit = diameterUnit(of('diameter'), of('circumference'), comma.value, defaults)
  const height = heightUnit(of('height') ?? of('crownDiameter') ?? of('crownRadius'), defaults)
  const order = speciesOrder(of('species'))
  const crs = suggestCrs(table, of('x'), of('y'), comma.value)
  const mapping: TreeMapping = {
    columns: Object.fromEntries(guesses.map((g) => [g.column, g.field])),
    diameterUnit: unit.value,
    heightUnit: height.value,
    measuredAtM: defaults.stemHeightM,
    crs: crs.value,
    decimalComma: comma.value,
    speciesOrder: order.value.order,
    speciesSeparator: order.value.separator,
  }
  const measuredAtM: Guess = {
    confidence: 'guess',
    because: `The file does not say; ${defaults.stemHeightM} m is the organisation's own height.`,
  }
  const settings = {
    diameterUnit: unit,
    heightUnit: height,
    measuredAtM,
    crs,
    decimalComma: comma,
    speciesOrder: order,
    speciesSeparator: order,
  }
  const reasons = Object.entries(settings).map(([key, { confidence, because }]) => [
    key,
    { confidence, because },
  ])
  return { mapping, columns: guesses, settings: Object.fromEntries(reasons) as MappingSuggestion['settings'] }
}

const isNumeric = (field: TreeField) =>
  numberFields.includes(field) || field === 'diameter' || field === 'circumference'
