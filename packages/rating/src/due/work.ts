import { addDays, type CivilDate, type RiskWord, rank, riskWords, type WorkKind } from '@underbough/model'
import type { DeadlineWord, Policy } from '../policy/policy.ts'
import type { DueInput, DuePart, DueWork } from './input.ts'
import { capital, days, plainDate, workNames } from './words.ts'

const looks: readonly WorkKind[] = ['monitor', 'look-deeper']
/** True for work that changes the risk; to monitor or to look deeper is a look. */
export const treats = (kind: WorkKind) => !looks.includes(kind)

/** What the works of a tree say: the risk that counts for its interval, and the deadline it follows, if any. */
export interface Standing {
  risk: RiskWord
  /** Word for deadlines: the rating's risk, or imminent, whether or not it was treated. */
  word: DeadlineWord
  residual: boolean
  /** The deadline of its work; null where no work binds it. */
  deadline: { on: CivilDate; sentence: string; parts: DuePart[] } | null
  /** Open works that are looks, each with its date. */
  looks: { on: CivilDate; kind: WorkKind }[]
}

/**
 * Reads works against the rating in force. A work counts as treatment when it was done on or after the day of the rating;
 * the tree is treated when one was and none is open. A refused work treats nothing.
 */
export function standingOf(input: DueInput, policy: Policy): Standing {
  const { rating } = input
  const rated = rating?.risk ?? policy.unratedRisk
  const word = rating?.worstFailure === 'imminent' ? 'imminent' : rated
  const since = rating ? (rating.untreatedSince ?? rating.ratedOn) : input.importedOn
  const dateOf = (work: DueWork): CivilDate =>
    work.dueOn ?? addDays(startOf(work, since), policy.workDays[word])

  const treating = input.works.filter((work) => treats(work.kind))
  const open = treating.filter(isOpen)
  const completed = treating.filter((work) => isDoneSince(work, rating?.ratedOn))
  const refusedOnes = treating.filter((work) => work.state === 'refused')
  const treated = completed.length > 0 && open.length === 0
  const hot = word === 'imminent' || rated === 'high' || rated === 'extreme'
  return {
    risk: treated && rating ? remaining(rating, completed, refusedOnes) : rated,
    word,
    residual: treated && rating !== null,
    deadline:
      hot && rating && !treated
        ? untreated(open, dateOf, word, since, policy, refusedOnes.length > 0)
        : openWork(open, dateOf, word, policy),
    looks: input.works
      .filter((work) => !treats(work.kind) && isOpen(work))
      .map((work) => ({ on: dateOf(work), kind: work.kind })),
  }
}

const isOpen = (work: DueWork) => work.state === 'proposed' || work.state === 'approved'

/** A work done before the rating was seen by it; one done on an unknown day cannot be shown to have come after. */
const isDoneSince = (work: DueWork, ratedOn: CivilDate | undefined) =>
  work.state === 'done' && work.doneOn !== null && ratedOn !== undefined && work.doneOn >= ratedOn

const startOf = (work: DueWork, since: CivilDate) =>
  work.proposedOn && work.proposedOn < since ? work.proposedOn : since

/** The rating's residual risk presumes all its works; with one refused, only what the done ones left counts. */
function remaining(
  rating: NonNullable<DueInput['rating']>,
  completed: readonly DueWork[],
  refusedOnes: readonly DueWork[],
): RiskWord {
  if (rating.residualRisk && refusedOnes.length === 0) return rating.residualRisk
  const left = completed.flatMap((work) => (work.residualRisk ? [rank(riskWords, work.residualRisk)] : []))
  return left.length > 0 ? riskWords[Math.max(...left)]! : rating.risk
}

function untreated(
  open: readonly DueWork[],
  dateOf: (work: DueWork) => CivilDate,
  word: DeadlineWord,
  since: CivilDate,
  policy: Policy,
  anyRefused: boolean,
): NonNullable<Standing['deadline']> {
  const article = /^[aeiou]/.test(word) ? 'an' : 'a'
  const first = earliest(open, dateOf)
  const limit = days(policy.workDays[word])
  const own = addDays(since, policy.workDays[word])
  // A date somebody gave a work does not buy an imminent tree time: it is an action, now.
  const tooLate = word === 'imminent' && first !== undefined && dateOf(first) > own
  const on = first && !tooLate ? dateOf(first) : own
  const sentence = tooLate
    ? `Imminent: act by ${plainDate(on)}; its work is dated later, ${plainDate(dateOf(first))}.`
    : first
      ? `Untreated, ${article} ${word} tree follows its work: ${workNames[first.kind]}, by ${plainDate(on)}.`
      : `Untreated, ${article} ${word} tree follows its work, and none is open: within ${limit} of ${plainDate(since)}.`
  const parts: DuePart[] = [{ rule: 'untreated-follows-work', words: sentence }]
  if (!first) parts.push({ rule: 'no-work-proposed', words: `${capital(word)}: work within ${limit}.` })
  else if (!first.dueOn)
    parts.push({ rule: 'work-deadline-by-risk', words: `The work has no date; ${word}: ${limit}.` })
  if (word === 'imminent')
    parts.push({ rule: 'imminent-is-an-action', words: 'Imminent: act now; no interval applies.' })
  if (anyRefused)
    parts.push({ rule: 'refused-is-untreated', words: 'A work was refused, so the risk stands.' })
  return { on, sentence, parts }
}

function openWork(
  open: readonly DueWork[],
  dateOf: (work: DueWork) => CivilDate,
  word: DeadlineWord,
  policy: Policy,
): Standing['deadline'] {
  const first = earliest(open, dateOf)
  if (!first) return null
  const on = dateOf(first)
  const sentence = `Its work comes before the next look: ${workNames[first.kind]}, by ${plainDate(on)}.`
  const parts: DuePart[] = [{ rule: 'open-work-comes-first', words: sentence }]
  if (!first.dueOn)
    parts.push({
      rule: 'work-deadline-by-risk',
      words: `The work has no date; ${word}: ${days(policy.workDays[word])}.`,
    })
  return { on, sentence, parts }
}

function earliest(works: readonly DueWork[], dateOf: (work: DueWork) => CivilDate): DueWork | undefined {
  return works.toSorted((a, b) => (dateOf(a) < dateOf(b) ? -1 : 1))[0]
}
