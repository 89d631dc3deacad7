import { type CivilDate, daysBetween, type Work, type WorkKind, type WorkState } from '@underbough/model'
import type { TreeRow } from '../api/index.ts'

export interface WorkOfTree {
  work: Work
  tree: TreeRow
}

export const kindWords: Readonly<Record<WorkKind, string>> = {
  prune: 'Prune',
  reduce: 'Reduce',
  remove: 'Remove',
  brace: 'Brace',
  'move-target': 'Move the target',
  'close-area': 'Close the area',
  monitor: 'Monitor',
  'look-deeper': 'Look deeper',
}
export const stateWords: Readonly<Record<WorkState, string>> = {
  proposed: 'proposed',
  approved: 'approved',
  done: 'done',
  refused: 'refused by the owner',
}

/** Still to be done: proposed or approved. */
export const isOpen = ({ state }: Pick<Work, 'state'>): boolean =>
  state === 'proposed' || state === 'approved'

/** Days an open work is past its date; 0 when it is not, or has none. */
export const lateDays = (work: Pick<Work, 'state' | 'dueOn'>, today: CivilDate): number =>
  isOpen(work) && work.dueOn ? Math.max(0, daysBetween(work.dueOn, today)) : 0

export type Shown = 'open' | 'late' | 'undecided' | 'done' | 'refused' | 'all'
/** What each narrowing of the list lets through. `undecided`: open and without the owner's answer, or put off. */
export function shows(shown: Shown, work: Work, today: CivilDate): boolean {
  if (shown === 'all') return true
  if (shown === 'open') return isOpen(work)
  if (shown === 'late') return lateDays(work, today) > 0
  if (shown === 'undecided') return isOpen(work) && work.decision?.answer !== 'accepted'
  return work.state === shown
}

/** Late first and the longest late before all; then what comes next; without a date last. What is over follows, the latest first. */
export function byDue(works: readonly WorkOfTree[]): WorkOfTree[] {
  const date = ({ work }: WorkOfTree) => work.dueOn ?? '9999-12-31'
  const over = ({ work }: WorkOfTree) => work.doneOn ?? work.decision?.on ?? work.dueOn ?? ''
  return [...works].sort((a, b) => {
    const open = Number(isOpen(b.work)) - Number(isOpen(a.work))
    if (open !== 0) return open
    return isOpen(a.work) ? date(a).localeCompare(date(b)) : over(b).localeCompare(over(a))
  })
}
