import { type LookingStep, lookingSteps } from '@underbough/model'
import type { StepState } from '@underbough/pictures'
import { type Draft, firstOpen, type Screen, screenOfStep } from './draft.ts'
import { isUrgent } from './judgement.ts'
import type { PlaceState } from './usePlace.ts'
import type { VisitHandle } from './useVisit.ts'

/** What every screen of a visit is given. */
export interface ScreenProps {
  visit: VisitHandle
  /** How the device stands to its position. */
  place: PlaceState
  go(to: Screen): void
}
export const isStep = (screen: Screen): screen is LookingStep => lookingSteps.includes(screen as LookingStep)

/** How a step stands on the strip of seven. */
export function stateOf(draft: Draft, step: LookingStep): StepState {
  if (draft.screen === step) return 'now'
  return draft.answers[step]?.result ?? 'to-come'
}

/** The step somebody stands at: the screen's own, or the row or finding that is open on the one screen of a limited look. */
export function stepAt(draft: Draft, screen: Screen): LookingStep | null {
  if (isStep(screen)) return screen
  if (screen !== 'short' || !draft.open) return null
  if (isStep(draft.open as Screen)) return draft.open as LookingStep
  return draft.findings.find((finding) => finding.id === draft.open)?.step ?? null
}

/** Urgent words stand and nobody has been told: nothing goes on but the note, or taking the words back. */
const mustTell = (draft: Draft): boolean =>
  !draft.leaveRating && draft.urgentNote === null && isUrgent(draft.rating)

/** The draft at another screen, the urgent note before any other while it is due. On a limited look a step is a row of the one screen. */
export function wentTo(draft: Draft, wish: Screen): Draft {
  const to = isStep(wish)
    ? screenOfStep(draft, wish)
    : wish === 'short' && draft.assignment.level !== 1
      ? (firstOpen(draft) ?? 'surroundings')
      : wish
  if (isStep(wish) && to === 'short' && draft.screen !== 'urgent')
    return wentTo({ ...draft, open: draft.answers[wish]?.result === 'nothing-found' ? null : wish }, 'short')
  const screen = mustTell(draft) && to !== 'rating' ? 'urgent' : to
  return screen === 'urgent' && draft.screen !== 'urgent'
    ? { ...draft, screen, urgentFrom: draft.screen }
    : { ...draft, screen }
}
