import type { ClosingInput, Due, Rating, Visit } from '@underbough/model'
import { type Draft, visitOf } from './draft.ts'
import { ratingOf } from './judgement.ts'

/** What the office answers to a closing. */
export interface OfficeAnswer {
  visit: Visit
  rating: Rating | null
  due: Due | null
  before: Due | null
}
/** A visit closed by its person; `answer` once the office has it. */
export interface Closed {
  answer: OfficeAnswer | null
}

/** All that closes together, in one entry. */
export function closingOf(draft: Draft): ClosingInput {
  return {
    visit: visitOf(draft),
    rating:
      draft.leaveRating || !draft.rating
        ? null
        : ratingOf(draft.rating, {
            treeId: draft.treeId,
            visitId: draft.id,
            timeFrameYears: draft.assignment.timeFrameYears,
          }),
    works: draft.works,
    urgentNote: draft.urgentNote,
  }
}
