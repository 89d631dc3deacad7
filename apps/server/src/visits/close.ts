import {
  assignment,
  lookingStepNames,
  lookingSteps,
  type OccupancyWord,
  type RatingInput,
  type Refusal,
  refusal,
  type UrgentNoteInput,
  type VisitInput,
} from '@underbough/model'
import { proposeImpact, type RatedTree, rateTree } from '@underbough/rating'

/** What is still missing before a visit may be closed; an empty list lets it close. The form shows the same sentences. */
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

/** Puts our own proposal in the place of whatever the device sent, where the target is a zone we know. */
export function withProposals(input: RatingInput, wordOf: ReadonlyMap<string, OccupancyWord>): RatingInput {
  return {
    ...input,
    scenarios: input.scenarios.map((scenario) => ({
      ...scenario,
      targets: scenario.targets.map((target) => {
        const word = target.zoneId ? wordOf.get(target.zoneId) : undefined
        return word ? { ...target, proposedImpact: proposeImpact(word, target.protection).impact } : target
      }),
    })),
  }
}

/** The rating with its worst scenario, or why not; imminent or extreme asks for the urgent note before anything else. */
export function judged(
  input: RatingInput,
  note: UrgentNoteInput | null,
): { rated: RatedTree } | { refusals: Refusal[] } {
  const rated = rateTree(input)
  if (!rated.ok) return { refusals: rated.refusals.map((r) => ({ ...r, path: `rating.${r.path}` })) }
  if (rated.value.urgent && !note)
    return {
      refusals: [
        refusal('urgent-note-first', 'urgentNote', {
          message: `${rated.value.urgentBecause} Keep people out, tell the person responsible and write the urgent note; then the visit can be closed.`,
        }),
      ],
    }
  return { rated: rated.value }
}
