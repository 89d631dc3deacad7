import type { TreeInput } from '@underbough/model'

export type TreeField = keyof TreeInput

const same = (a: unknown, b: unknown) => JSON.stringify(sorted(a)) === JSON.stringify(sorted(b))
/** Keys in one order, so that two equal records read alike however they came. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, part]) => [key, sorted(part)]),
  )
}

/** One field in which two people's records of a tree differ. */
export interface Difference {
  field: TreeField
  theirs: unknown
  mine: unknown
  /** What stands unless the person says otherwise: one's own where one changed it, else theirs. */
  choice: 'theirs' | 'mine'
}

/** Fields that were changed by one or the other since `base`, where the two are not the same now. */
export function differences(base: TreeInput, mine: TreeInput, theirs: TreeInput): Difference[] {
  return (Object.keys(mine) as TreeField[])
    .filter((field) => !same(mine[field], theirs[field]))
    .map((field) => ({
      field,
      theirs: theirs[field],
      mine: mine[field],
      choice: same(mine[field], base[field]) ? 'theirs' : 'mine',
    }))
}

/** Their record with one's own values where those were chosen. */
export function merged(theirs: TreeInput, choices: readonly Difference[]): TreeInput {
  const own = choices.filter((c) => c.choice === 'mine').map((c) => [c.field, c.mine])
  return { ...theirs, ...Object.fromEntries(own) }
}

/** Which fields a person has changed. */
export const changedFields = (base: TreeInput, mine: TreeInput): TreeField[] =>
  (Object.keys(mine) as TreeField[]).filter((field) => !same(mine[field], base[field]))
