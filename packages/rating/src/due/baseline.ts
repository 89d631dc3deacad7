import {
  addDays,
  addMonths,
  type CivilDate,
  daysBetween,
  type OccupancyWord,
  occupancyWords,
  rank,
} from '@underbough/model'
import type { Policy } from '../policy/policy.ts'

/** A tree nobody has looked at yet. */
export interface UnseenTree {
  treeId: string
  importedOn: CivilDate
  /** Use of the heaviest zone within reach; null for none, which counts as rare. */
  zoneUse: OccupancyWord | null
  /** Null while unknown; such trees come first in their class. */
  stemDiameterCm: number | null
}

/**
 * Day of the first look: each class of use has its stretch after the import (constant first, each ending at the policy's
 * months), and a tree stands in the stretch by its share, near 0 for the largest stem to 1 for the smallest. Never on the
 * day of the import.
 */
export function baselineDate(
  importedOn: CivilDate,
  use: OccupancyWord,
  share: number,
  policy: Policy,
): CivilDate {
  const heavier = occupancyWords[rank(occupancyWords, use) + 1]
  const start = heavier ? addMonths(importedOn, policy.baselineMonths[heavier]) : importedOn
  const days = daysBetween(start, addMonths(importedOn, policy.baselineMonths[use]))
  const day = Math.ceil(Math.min(1, Math.max(0, share)) * days)
  return addDays(start, heavier ? day : Math.max(1, day))
}

/**
 * Where each tree stands among those of the same import day and use: above 0 for the largest stem, 1 for the last.
 * Trees without a diameter stand first; equals by identifier, so that the order is the same every time.
 */
export function baselineShares(trees: readonly UnseenTree[]): Map<string, number> {
  const classes = new Map<string, UnseenTree[]>()
  for (const tree of trees) {
    const key = `${tree.importedOn} ${tree.zoneUse ?? 'rare'}`
    const group = classes.get(key)
    if (group) group.push(tree)
    else classes.set(key, [tree])
  }
  const shares = new Map<string, number>()
  for (const group of classes.values()) {
    const size = (tree: UnseenTree) => tree.stemDiameterCm ?? Number.POSITIVE_INFINITY
    const sorted = group.toSorted((a, b) =>
      size(a) === size(b) ? (a.treeId < b.treeId ? -1 : 1) : size(b) - size(a),
    )
    sorted.forEach((tree, i) => {
      shares.set(tree.treeId, (i + 1) / sorted.length)
    })
  }
  return shares
}

/** Day of the first look for each tree nobody has seen, spread over the ramp instead of one pile on the day of the import. */
export function baselineRamp(trees: readonly UnseenTree[], policy: Policy): Map<string, CivilDate> {
  const shares = baselineShares(trees)
  return new Map(
    trees.map((tree) => [
      tree.treeId,
      baselineDate(tree.importedOn, tree.zoneUse ?? 'rare', shares.get(tree.treeId)!, policy),
    ]),
  )
}
