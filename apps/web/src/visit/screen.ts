import { type LookingStep, lookingSteps } from '@underbough/model'
import type { StepState } from '@underbough/pictures'
import type { Draft, Screen } from './draft.ts'
import { isUrgent } from './judgement.ts'
import type { VisitHandle } from './useVisit.ts'

/** What every screen of a visit is given. */
export interface ScreenProps {
  visit: VisitHandle
  go(to: Screen): void
}
export const isStep = (screen: Screen): screen is LookingStep => lookingSteps.includes(screen as LookingStep)

/** How a step stands on the strip of seven. */
export function stateOf(draft: Draft, step: LookingStep): StepState {
  if (draft.screen === step) return 'now'
  return draft.answers[step]?.result ?? 'to-come'
}

/** Urgent words stand and nobody has been told: nothing goes on but the note, or taking the words back. */
const mustTell = (draft: Draft): boolean =>
  !draft.leaveRating && draft.urgentNote === null && isUrgent(draft.rating)

/** The draft at another screen, the urgent note before any other while it is due. */
export function wentTo(draft: Draft, to: Screen): Draft {
  const screen = mustTell(draft) && to !== 'rating' ? 'urgent' : to
  return screen === 'urgent' && draft.screen !== 'urgent'
    ? { ...draft, screen, urgentFrom: draft.screen }
    : { ...draft, screen }
}
