import { type LookingStep, lookingSteps } from '@underbough/model'
import type { StepState } from '@underbough/pictures'
import type { Draft, Screen } from './draft.ts'
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
