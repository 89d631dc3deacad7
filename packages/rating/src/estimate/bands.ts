import { type FailureWord, failureWords, type Refusal, refusal } from '@underbough/model'
import { z } from 'zod'

/** Chance within the time frame, from and to, both above 0 and at most 1. */
export interface FailureBand {
  from: number
  to: number
}

/** What an organisation takes the failure words to mean as chances, each within the time frame of its rating. */
export interface FailureBands {
  edition: string
  words: Record<FailureWord, FailureBand>
}

/**
 * Assumption throughout: no published yearly rate for a failure word was found. The bands are wide, so that a figure made from
 * them is a range and never a single number.
 */
export const startingBands: FailureBands = {
  edition: 'starting-1',
  words: {
    improbable: { from: 1e-5, to: 1e-3 },
    possible: { from: 1e-4, to: 1e-2 },
    probable: { from: 1e-2, to: 0.3 },
    imminent: { from: 0.3, to: 1 },
  },
}

/** A band wider than this agrees with every record and says nothing (Assumption). */
export const WIDEST_BAND = 1000

const chance = z.number().gt(0).max(1)
export const failureBandsSchema = z.object({
  edition: z.string().trim().min(1).max(80),
  words: z.record(z.enum(failureWords), z.object({ from: chance, to: chance })),
})

/**
 * What keeps a set of bands from being used; an empty list lets it be decided on. Refuses an end outside 0 to 1, a band that
 * runs backwards or spans more than a thousandfold (`out-of-range`), and a worse word with a lower end than a lighter one
 * (`bands-out-of-order`).
 */
export function checkBands({ words }: FailureBands): Refusal[] {
  return failureWords.flatMap((word, i) => {
    const { from, to } = words[word]
    const path = `bands.words.${word}`
    const lighter = failureWords[i - 1]
    const found: Refusal[] = []
    if (!(from > 0 && to <= 1 && from <= to))
      found.push(
        refusal('out-of-range', path, {
          value: `${from} to ${to}`,
          limit: 'above 0, at most 1, the lower end first',
          message: `The band of “${word}” runs from ${from} to ${to}. A chance lies above 0 and at most at 1, the lower end first.`,
        }),
      )
    else if (to / from > WIDEST_BAND * (1 + 1e-9))
      found.push(
        refusal('out-of-range', path, {
          value: `${from} to ${to}`,
          limit: `at most ${WIDEST_BAND} times from end to end`,
          message: `The band of “${word}” is so wide that it would agree with any record. At most ${WIDEST_BAND} times from end to end.`,
        }),
      )
    if (lighter && (from < words[lighter].from || to < words[lighter].to))
      found.push(
        refusal('bands-out-of-order', path, {
          value: `${from} to ${to}`,
          limit: `not below ${words[lighter].from} to ${words[lighter].to}, as at “${lighter}”`,
          message: `“${word}” is the worse word, and an end of its band lies below that of “${lighter}”.`,
        }),
      )
    return found
  })
}
