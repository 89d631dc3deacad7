import {
  type OccupancyWord,
  type RatingInput,
  type Refusal,
  refusal,
  type UrgentNoteInput,
} from '@underbough/model'
import { proposeImpact, type RatedTree, rateTree } from '@underbough/rating'

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
