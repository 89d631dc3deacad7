import { type CivilDate, type Due, daysBetween, type RiskWord } from '@underbough/model'
import type { Policy } from '../policy/policy.ts'
import type { DueDecision, DueInput } from './input.ts'
import { lookReasons } from './look.ts'
import type { RuleName } from './rules.ts'
import { standingOf } from './work.ts'

/**
 * When a tree must be looked at again, or its work done, and why. Null for a tree that is gone and for a stump.
 *
 * The date is the earliest of the clocks of each level, the first look where none was made, unanswered events, works that
 * ask for a look, and the deadline of the work. An untreated extreme, high or imminent tree is bound by its work's
 * deadline, which no look moves; the look that waits under it stands in `lookOn`. Dates are civil dates at the site.
 */
export function dueOf(input: DueInput, policy: Policy): DueDecision | null {
  if (input.status === 'gone' || input.status === 'stump') return null
  const standing = standingOf(input, policy)
  const look = lookReasons(input, standing, policy)[0]!
  const work = standing.deadline && standing.deadline.on <= look.on ? standing.deadline : null
  const base = { treeId: input.treeId, level: look.level, policyEdition: policy.edition }
  if (work)
    return {
      ...base,
      on: work.on,
      kind: 'work',
      reason: work.sentence,
      outOfSeason: false,
      lookOn: look.on,
      parts: [...work.parts, ...look.parts],
    }
  return {
    ...base,
    on: look.on,
    kind: look.kind,
    reason: look.sentence,
    outOfSeason: look.outOfSeason,
    lookOn: null,
    parts: look.parts,
  }
}

/** Names of the rules that shaped a date, in the order in which the drawer shows them. */
export function rulesApplied(input: DueInput, policy: Policy): RuleName[] {
  return dueOf(input, policy)?.parts.map((part) => part.rule) ?? ['gone-is-not-due']
}

/** Overdue from the midnight after the day it is due; both are civil dates at the site. */
export function isOverdue(due: Pick<Due, 'on'>, today: CivilDate): boolean {
  return today > due.on
}

/**
 * Days late times the policy's weight of the risk; 0 while not late. A tree not rated yet (null) weighs what the policy
 * takes it for. A tree never seen is late from its place in the ramp, so counted from its import.
 */
export function riskDays(
  due: Pick<Due, 'on'>,
  risk: RiskWord | null,
  today: CivilDate,
  policy: Policy,
): number {
  return Math.max(0, daysBetween(due.on, today)) * policy.riskWeights[risk ?? policy.unratedRisk]
}
