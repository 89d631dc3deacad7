import type { SecondVersion, Tree } from '@underbough/model'
import { treeInput } from '@underbough/model'
import { changedFields, type TreeField } from '../tree/conflict.ts'

export type Side = 'stored' | 'offered'
export type Choice = Partial<Record<TreeField, Side>>

/** Two versions of one tree, as the office answers them. */
export interface Beside {
  version: SecondVersion
  stored: Tree
}

/** Fields in which the two differ, in the order of the record. */
export const fieldsApart = ({ version, stored }: Beside): TreeField[] =>
  changedFields(treeInput.parse(stored), treeInput.parse(version.offered))

/** Fields nobody has chosen yet. */
export const stillOpen = (fields: readonly TreeField[], choice: Choice): TreeField[] =>
  fields.filter((field) => choice[field] === undefined)

/** One side for all fields. */
export const whole = (fields: readonly TreeField[], side: Side): Choice =>
  Object.fromEntries(fields.map((field) => [field, side]))
