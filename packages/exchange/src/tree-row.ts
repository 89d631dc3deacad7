import {
  blankTree,
  type Position,
  type Refusal,
  type TreeField,
  type TreeInput,
  type TreeMapping,
  treeLimits,
} from '@underbough/model'
import { isBlank, tidy } from './cells.ts'
import { say } from './codes.ts'
import { blankNote, type Read, readCount, readLengthM, readStems, readYear } from './measures.ts'
import { isGroupWord, looksBotanical, splitSpecies } from './species.ts'
import { readStatus } from './status.ts'

/** A group without a number is entered as two, the least a group can be. Assumption. */
const GROUP_COUNT_UNSTATED = 2
/** What stands in the record where a list gives no species at all. */
const SPECIES_UNSTATED = 'Not recorded'
const KEY_JOINER = ' | '
const TAG_MAX = 60

/** Columns by what they are taken for, and a way to a row's cells by column. */
export interface RowView {
  columnsOf(field: TreeField): string[]
  cell(column: string): string
}

/** The stable identifier of a row: its key column, or the parts joined in the order of the columns. `null`: blank. */
export function sourceKeyOf(row: RowView): string | null {
  const [whole] = row.columnsOf('sourceKey')
  if (whole !== undefined) return isBlank(row.cell(whole)) ? null : tidy(row.cell(whole))
  const parts = row.columnsOf('sourceKeyPart').map((column) => tidy(row.cell(column)))
  return parts.some((part) => !isBlank(part)) ? parts.join(KEY_JOINER) : null
}

/** A tag for people: the one in the list, else the identifier, else the line. */
export function tagOf(row: RowView, sourceKey: string | null, line: number): string {
  const [column] = row.columnsOf('tag')
  const written = column === undefined || isBlank(row.cell(column)) ? null : tidy(row.cell(column))
  return shortTag(written ?? sourceKey ?? `line ${line}`)
}

/** At most 60 characters; a longer tag ends in a mark made from the whole, so that it stays one of a kind. */
export function shortTag(tag: string): string {
  if (tag.length <= TAG_MAX) return tag
  let hash = 0x811c9dc5
  for (let i = 0; i < tag.length; i++) hash = Math.imul(hash ^ tag.charCodeAt(i), 0x01000193) >>> 0
  const mark = hash.toString(36).padStart(7, '0')
  return `${tag.slice(0, TAG_MAX - mark.length - 2).trimEnd()}… ${mark}`.slice(0, TAG_MAX)
}

/**
 * Everything about a tree but its identity, from one row whose position is known. Never fails: what cannot be read
 * stays unknown and leaves a note.
 */
export function readTree(
  row: RowView,
  mapping: TreeMapping,
  position: Position,
  tag: string,
): { tree: TreeInput; notes: Refusal[] } {
  const notes: Refusal[] = []
  const take = <T>(read: Read<T>): T | null => {
    notes.push(...read.notes)
    return read.value
  }
  const text = (field: TreeField, max: number) => clipped(row, field, max, notes)
  const names = readNames(row, mapping, notes)
  const length = (field: TreeField, maxM: number, options: { zeroAllowed?: boolean } = {}) => {
    const [column] = row.columnsOf(field)
    if (column === undefined) return null
    const code = field === 'height' ? 'height-implausible' : 'out-of-range'
    const { heightUnit: unit, decimalComma } = mapping
    return take(readLengthM(row.cell(column), column, { unit, decimalComma, maxM, code, ...options }))
  }
  const [yearColumn] = row.columnsOf('plantedYear')
  const [statusColumn] = row.columnsOf('status')
  const radiusM = length('crownRadius', treeLimits.crownRadiusM)
  const diameterM = length('crownDiameter', 2 * treeLimits.crownRadiusM)
  const crownM = radiusM ?? (diameterM === null ? null : diameterM / 2)
  const tree = blankTree({
    tag,
    ...names,
    position,
    stems: readStemColumns(row, mapping, take),
    group: readGroup(row, mapping, notes, take),
    heightM: length('height', treeLimits.heightM),
    crownBaseHeightM: length('crownBaseHeight', treeLimits.heightM, { zeroAllowed: true }),
    crownRadiiM: crownM === null ? null : { n: crownM, e: crownM, s: crownM, w: crownM },
    owner: text('owner', 160),
    status: (statusColumn && take(readStatus(row.cell(statusColumn), statusColumn))) || 'standing',
    plantedYear: yearColumn === undefined ? null : take(readYear(row.cell(yearColumn), yearColumn)),
    note: text('note', 4000) ?? '',
  })
  return { tree, notes }
}

function readNames(
  row: RowView,
  mapping: TreeMapping,
  notes: Refusal[],
): Pick<TreeInput, 'species' | 'commonName'> {
  const [column] = row.columnsOf('species')
  const common = clipped(row, 'commonName', 160, notes)
  const cell = column === undefined ? null : clipped(row, 'species', 320, notes)
  if (column !== undefined && cell === null) notes.push(blankNote(column, 'species'))
  if (cell === null) return { species: common ?? SPECIES_UNSTATED, commonName: common }
  const split = splitSpecies(cell, mapping)
  if (!looksBotanical(split.species) && !isGroupWord(split.species))
    notes.push(
      say('species-unknown', column!, `“${split.species}” is not a botanical name; it is kept as written.`, {
        value: cell,
      }),
    )
  return {
    species: split.species.slice(0, 160),
    commonName: (common ?? split.commonName)?.slice(0, 160) ?? null,
  }
}

function readStemColumns(
  row: RowView,
  mapping: TreeMapping,
  take: <T>(read: Read<T>) => T | null,
): TreeInput['stems'] {
  const options = {
    unit: mapping.diameterUnit,
    measuredAtM: mapping.measuredAtM,
    decimalComma: mapping.decimalComma,
  }
  const [diameter] = row.columnsOf('diameter')
  const [circumference] = row.columnsOf('circumference')
  const useGirth = circumference !== undefined && (diameter === undefined || isBlank(row.cell(diameter)))
  const column = useGirth ? circumference : diameter
  if (column === undefined) return []
  return take(readStems(row.cell(column), column, useGirth ? 'circumference' : 'diameter', options)) ?? []
}

function readGroup(
  row: RowView,
  mapping: TreeMapping,
  notes: Refusal[],
  take: <T>(read: Read<T>) => T | null,
): TreeInput['group'] {
  const [countColumn] = row.columnsOf('count')
  const stated =
    countColumn === undefined
      ? null
      : take(readCount(row.cell(countColumn), countColumn, mapping.decimalComma))
  const named = [...row.columnsOf('species'), ...row.columnsOf('commonName')].find((c) =>
    isGroupWord(row.cell(c)),
  )
  if ((stated ?? 0) < 2 && (named === undefined || stated === 1)) return null
  const count = stated !== null && stated >= 2 ? stated : GROUP_COUNT_UNSTATED
  notes.push(
    say(
      'group-of-trees',
      stated === null ? named! : countColumn!,
      stated === null
        ? `The row stands for a group of trees and does not say how many; ${count} was entered.`
        : `The row stands for ${count} trees.`,
      { value: count },
    ),
  )
  return { count, outline: null }
}

function clipped(row: RowView, field: TreeField, max: number, notes: Refusal[]): string | null {
  const columns = row.columnsOf(field).filter((column) => !isBlank(row.cell(column)))
  const text = columns
    .map((column) => (field === 'note' ? row.cell(column).trim() : tidy(row.cell(column))))
    .join('; ')
  if (text === '') return null
  if (text.length <= max) return text
  notes.push(
    say('too-large', columns[0]!, `The text is longer than ${max} characters and was cut.`, {
      limit: `${max} characters`,
    }),
  )
  return text.slice(0, max).trimEnd()
}
