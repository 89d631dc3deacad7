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

/**
 * Zones that changed while a look was on its way here: after it ended, or so that the device proposed another word than we would. What
 * the inspector saw then stands, and the rating is opened again with this reason. Null where there is none.
 */
export function changedMeanwhile(
  input: RatingInput,
  endedAt: string | null,
  changed: readonly { id: string; name: string; changedAt: string }[],
  wordOf: ReadonlyMap<string, OccupancyWord>,
): { ids: Set<string>; because: string } | null {
  const proposedElse = new Set<string>()
  const ours = withProposals(input, wordOf)
  for (const [i, scenario] of input.scenarios.entries())
    for (const [j, target] of scenario.targets.entries())
      if (target.zoneId && ours.scenarios[i]!.targets[j]!.proposedImpact !== target.proposedImpact)
        proposedElse.add(target.zoneId)
  const meanwhile = changed.filter(
    ({ id, changedAt }) =>
      proposedElse.has(id) || (endedAt !== null && Date.parse(changedAt) > Date.parse(endedAt)),
  )
  if (meanwhile.length === 0) return null
  const names = meanwhile.map(({ name }) => `“${name}”`).join(', ')
  return {
    ids: new Set(meanwhile.map(({ id }) => id)),
    because: `The tree was looked at without knowing of a change of the zone ${names}.`,
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
