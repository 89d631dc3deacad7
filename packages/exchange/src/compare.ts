import { combinedDiameterCm, type Position, type TreeField, type TreeInput } from '@underbough/model'
import { planarMoveM } from './positions.ts'
import type { RowVerdict } from './row-verdict.ts'

/** A move shorter than this is the rounding of coordinates, not a move. Assumption. */
export const IGNORED_MOVE_M = 0.3
/** Figures that differ by less are the same figure, rounded. */
const SAME_FIGURE = 0.005

/** The part of a stored tree that a list can speak of. */
export type TreeSummary = Pick<
  TreeInput,
  | 'tag'
  | 'species'
  | 'commonName'
  | 'position'
  | 'stems'
  | 'group'
  | 'heightM'
  | 'crownBaseHeightM'
  | 'crownRadiiM'
  | 'owner'
  | 'plantedYear'
  | 'status'
  | 'note'
>

/** One field that differs. `null` is unknown. A move also says how far, planar metres. */
export interface Difference {
  field: keyof TreeSummary
  from: unknown
  to: unknown
  movedM?: number
}

/**
 * A newer file beside what is stored, by stable identifier. `unread` are stored trees whose row was refused: they are
 * in the file, so they are not gone. `keyless` are lines without an identifier, which cannot be compared.
 */
export interface Comparison {
  new: string[]
  changed: { sourceKey: string; line: number; differences: Difference[] }[]
  same: string[]
  gone: string[]
  unread: string[]
  keyless: number[]
}

/**
 * Compares the rows of a file with the trees stored from an earlier one. Nothing is decided here: a tree that is
 * `gone` from the file keeps all its records until a person decides.
 * @param fields what the file speaks of (`TreeReading.fields`); a height that a person measured here is not “changed”
 * to unknown by a list that has no heights
 */
export function compareWithStored(
  rows: readonly RowVerdict[],
  stored: readonly { sourceKey: string; tree: TreeSummary }[],
  fields: readonly TreeField[],
): Comparison {
  const known = new Map(stored.map((entry) => [entry.sourceKey, entry.tree]))
  const compared = comparedFields(fields)
  const result: Comparison = { new: [], changed: [], same: [], gone: [], unread: [], keyless: [] }
  const seen = new Set<string>()
  for (const row of rows) {
    if (row.sourceKey === null) {
      result.keyless.push(row.line)
      continue
    }
    if (!row.tree) continue
    seen.add(row.sourceKey)
    const before = known.get(row.sourceKey)
    if (!before) {
      result.new.push(row.sourceKey)
      continue
    }
    const differences = compared.flatMap((field) => difference(field, before, row.tree!) ?? [])
    if (differences.length === 0) result.same.push(row.sourceKey)
    else result.changed.push({ sourceKey: row.sourceKey, line: row.line, differences })
  }
  const refusedKeys = new Set(
    rows.flatMap((row) => (row.tree || row.sourceKey === null ? [] : [row.sourceKey])),
  )
  for (const key of known.keys()) {
    if (seen.has(key)) continue
    if (refusedKeys.has(key)) result.unread.push(key)
    else result.gone.push(key)
  }
  return result
}

const spokenOf: Partial<Record<TreeField, (keyof TreeSummary)[]>> = {
  tag: ['tag'],
  species: ['species', 'commonName', 'group'],
  commonName: ['commonName', 'group'],
  diameter: ['stems'],
  circumference: ['stems'],
  height: ['heightM'],
  crownBaseHeight: ['crownBaseHeightM'],
  crownDiameter: ['crownRadiiM'],
  crownRadius: ['crownRadiiM'],
  count: ['group'],
  owner: ['owner'],
  plantedYear: ['plantedYear'],
  status: ['status'],
  note: ['note'],
  x: ['position'],
  y: ['position'],
  geometry: ['position'],
}

function comparedFields(fields: readonly TreeField[]): (keyof TreeSummary)[] {
  return [...new Set(fields.flatMap((field) => spokenOf[field] ?? []))]
}

function difference(field: keyof TreeSummary, before: TreeSummary, after: TreeSummary): Difference | null {
  if (field === 'position') return moved(before.position, after.position)
  const from = comparable(field, before)
  const to = comparable(field, after)
  const same =
    typeof from === 'number' && typeof to === 'number' ? Math.abs(from - to) < SAME_FIGURE : from === to
  return same ? null : { field, from, to }
}

function moved(from: Position, to: Position): Difference | null {
  const movedM = planarMoveM(from, to)
  return movedM < IGNORED_MOVE_M ? null : { field: 'position', from, to, movedM }
}

/** Stems as one diameter in cm, crowns as their mean radius in m, a group as its number. */
function comparable(field: Exclude<keyof TreeSummary, 'position'>, tree: TreeSummary): unknown {
  if (field === 'stems')
    return tree.stems.length === 0 ? null : combinedDiameterCm(tree.stems.map((stem) => stem.diameterCm))
  if (field === 'crownRadiiM') {
    const r = tree.crownRadiiM
    return r && (r.n + r.e + r.s + r.w) / 4
  }
  if (field === 'group') return tree.group?.count ?? null
  return tree[field] ?? null
}
