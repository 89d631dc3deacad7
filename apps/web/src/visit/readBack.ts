import { type LookingStep, lookingStepNames, lookingSteps, type Refusal } from '@underbough/model'
import { count, sayDate } from '../look/index.ts'
import type { Screen } from './draft.ts'
import { bestAccuracyM, couldNotSeeOf, type Draft, foundOf, limitsOf, minutesOf } from './draft.ts'
import { worstOf } from './judgement.ts'
import type { Reckoned } from './reckon.ts'

/** One thing that will be on record, and the screen where it can still be changed. */
export interface Line {
  words: string
  screen: Screen
}

const list = (words: readonly string[]) =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`
const lower = (step: LookingStep) => lookingStepNames[step].toLowerCase()

/** With a full stop at its end, once. */
const ended = (text: string) => `${text.trim().replace(/\.+$/, '')}.`

/** What is read back besides the draft. */
export interface Around {
  personName: string
  treeName: string
  /** How the person's qualification stands. */
  qualification: string
  photos: number
  readings: { handedIn: number; begun: number }
  due: Reckoned
  /** Office minus device, ms; null where they have not met. */
  clockOffsetMs: number | null
}

/** The visit in plain sentences, as it will stand once closed. */
export function readBack(draft: Draft, around: Around): Line[] {
  const { assignment } = draft
  const years = assignment.timeFrameYears === 1 ? '1 year' : `${assignment.timeFrameYears} years`
  return [
    {
      words: `${around.personName} looks at ${around.treeName} on level ${assignment.level}, for failures within ${years}. Targets: ${ended(assignment.targets)} Limits: ${ended(limitsOf(draft) || 'none stated')}`,
      screen: 'start',
    },
    { words: around.qualification, screen: 'closing' },
    ...stepLines(draft),
    { words: sayKept(around), screen: 'closing' },
    ...ratingLines(draft),
    ...workLines(draft),
    ...dueLines(around.due),
    { words: sayMinutes(draft), screen: lookingSteps[0] },
    { words: sayPosition(draft), screen: 'closing' },
    ...clockLines(around.clockOffsetMs),
  ]
}

function stepLines(draft: Draft): Line[] {
  const lines: Line[] = []
  const clear = lookingSteps.filter((step) => draft.answers[step]?.result === 'nothing-found')
  if (clear.length > 0)
    lines.push({
      words:
        clear.length === lookingSteps.length
          ? 'All seven steps were seen and nothing was found.'
          : `Seen, nothing found: ${list(clear.map(lower))}.`,
      screen: clear[0]!,
    })
  for (const step of lookingSteps) {
    const given = draft.answers[step]
    if (given?.result === 'findings')
      for (const f of foundOf(draft).filter((one) => one.step === step)) {
        const place = [
          f.heightM === null ? null : `${f.heightM} m up`,
          f.bearingDeg === null ? null : `facing ${Math.round(f.bearingDeg)}°`,
          f.heightM === null && f.bearingDeg === null ? 'not placed' : null,
          f.extent || null,
        ].filter(Boolean)
        lines.push({
          words: `${lookingStepNames[step]}: ${f.kind}${place.length ? `, ${place.join(', ')}` : ''}.${f.note ? ` ${f.note}` : ''}`,
          screen: step,
        })
      }
    if (given?.result === 'not-seen')
      lines.push({
        words: `${lookingStepNames[step]} was not seen: ${ended(given.notSeenBecause ?? 'no reason given')}`,
        screen: step,
      })
  }
  if (draft.couldNotSee)
    lines.push({ words: `Could not be seen: ${couldNotSeeOf(draft)}`, screen: 'closing' })
  return lines
}

function workLines(draft: Draft): Line[] {
  const lines = draft.works.map(
    (work): Line => ({
      words: ended(
        `Proposed: ${work.description.replace(/\.+$/, '')}${work.dueOn ? `, by ${sayDate(work.dueOn)}` : ''}`,
      ),
      screen: 'works',
    }),
  )
  const note = draft.urgentNote
  if (note)
    lines.push({
      words: `Urgent note: ${note.toldWhom} was told ${note.toldHow}; people are ${note.keptOut ? '' : 'not '}kept out. ${note.interimClosure}`,
      screen: 'urgent',
    })
  return lines.length > 0 ? lines : [{ words: 'No works are proposed.', screen: 'works' }]
}

function dueLines(due: Reckoned): Line[] {
  if (!due.known) return [{ words: 'When it is due next is worked out at the office.', screen: 'closing' }]
  if (!due.due) return [{ words: 'Nothing is due here any more.', screen: 'closing' }]
  const { kind, on, reason } = due.due
  return [
    { words: `${kind === 'work' ? 'Work' : 'Next look'} by ${sayDate(on)}. ${reason}`, screen: 'closing' },
  ]
}

/** Photos and readings, by their number. */
function sayKept({ photos, readings }: Around): string {
  const taken = photos === 0 ? 'No photos' : count(photos, 'photo')
  const read = readings.handedIn === 0 ? 'no readings' : count(readings.handedIn, 'reading')
  const begun = readings.begun > 0 ? ` ${count(readings.begun, 'reading')} begun and not handed in.` : ''
  return `${taken} and ${read}.${begun}`
}

/** A limited look is not timed step by step. */
function sayMinutes(draft: Draft): string {
  const minutes = Math.round(minutesOf(draft))
  const length = minutes < 1 ? 'Less than a minute' : minutes === 1 ? '1 minute' : `${minutes} minutes`
  return draft.assignment.level === 1
    ? `${length} at what was opened on the one screen.`
    : `${length} at the seven steps.`
}

function sayPosition(draft: Draft): string {
  const best = bestAccuracyM(draft)
  return best === null
    ? 'The position was not known: the phone gave none, or was not allowed to.'
    : `The position was known within ${Math.max(1, Math.round(best))} m at best.`
}

/** A clock that is right to a minute or two is not worth words. */
const CLOCK_WORTH_MS = 120_000
function clockLines(offsetMs: number | null): Line[] {
  if (offsetMs === null)
    return [
      {
        words: 'This phone has not compared its clock with the office yet; the office will.',
        screen: 'closing',
      },
    ]
  if (Math.abs(offsetMs) <= CLOCK_WORTH_MS) return []
  const minutes = Math.round(Math.abs(offsetMs) / 60_000)
  return [
    {
      words: `This phone’s clock is ${count(minutes, 'minute')} ${offsetMs > 0 ? 'slow' : 'fast'}; the times on record are put right by the office’s.`,
      screen: 'closing',
    },
  ]
}

function ratingLines(draft: Draft): Line[] {
  if (draft.leaveRating || !draft.rating)
    return [{ words: 'No rating is made on this visit; the one in force stays.', screen: 'rating' }]
  const lines = draft.rating.scenarios.map((scenario): Line => {
    const worst = worstOf(scenario)
    return {
      words: worst
        ? `${scenario.description} Failure ${worst.failure}, impact on ${worst.targetName} ${worst.impact}, consequences ${worst.consequences}: risk ${worst.risk}.`
        : `${scenario.description} Not judged yet.`,
      screen: 'rating',
    }
  })
  if (draft.rating.overrideRisk)
    lines.push({
      words: `You put the risk at ${draft.rating.overrideRisk}: ${draft.rating.overrideReason || 'no reason given yet'}`,
      screen: 'rating',
    })
  return lines
}

/** The screen on which a refusal can be mended, from its path. */
export function screenOf(refusal: Pick<Refusal, 'path'>): Screen {
  const [first, second, third] = refusal.path.split('.')
  if (first === 'rating') return 'rating'
  if (first === 'works') return 'works'
  if (first === 'urgentNote') return 'urgent'
  if (second === 'steps' && lookingSteps.includes(third as LookingStep)) return third as LookingStep
  if (second === 'findings') return 'stem'
  if (second === 'assignment' || second === 'weather' || second === 'leafState') return 'start'
  return 'closing'
}
