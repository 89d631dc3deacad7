import {
  assignment,
  lookingStepNames,
  lookingSteps,
  type Refusal,
  refusal,
  type VisitInput,
} from '@underbough/model'

/**
 * What is still missing before a visit may be closed; an empty list lets it close. A path begins with `visit.`; that of a step
 * ends in its name: `visit.steps.base`. The form and the server say the same sentences.
 */
export function missingToClose(visit: VisitInput): Refusal[] {
  const missing: Refusal[] = []
  const given = assignment.safeParse(visit.assignment)
  if (!given.success) missing.push(refusal('visit-no-assignment', 'visit.assignment'))
  for (const step of lookingSteps) {
    const answer = visit.steps.find((s) => s.step === step)
    const path = `visit.steps.${step}`
    if (!answer)
      missing.push(
        refusal('visit-step-unanswered', path, { message: `${lookingStepNames[step]} is not answered yet.` }),
      )
    else if (answer.result === 'not-seen' && !answer.notSeenBecause)
      missing.push(
        refusal('visit-step-unanswered', path, {
          message: `${lookingStepNames[step]} was not seen: say why.`,
        }),
      )
    else if (answer.result === 'findings' && !visit.findings.some((f) => f.step === step))
      missing.push(
        refusal('visit-step-unanswered', path, {
          message: `${lookingStepNames[step]} has findings: name at least one.`,
        }),
      )
  }
  if (!visit.endedAt) missing.push(refusal('required', 'visit.endedAt'))
  return missing
}
