import { type LookingStep, lookingStepNames, lookingSteps, type Refusal } from '@underbough/model'
import { sayDate } from '../look/index.ts'
import type { Screen } from './draft.ts'
import { couldNotSeeOf, type Draft, minutesOf } from './draft.ts'
import { worstOf } from './judgement.ts'

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

/** The visit in plain sentences, as it will stand once closed. */
export function readBack(draft: Draft, personName: string, treeName: string): Line[] {
  const lines: Line[] = []
  const { assignment } = draft
  lines.push({
    words: `${personName} looks at ${treeName} on level ${assignment.level}, for failures within ${assignment.timeFrameYears} years. Targets: ${ended(assignment.targets)} Limits: ${ended(assignment.limits || 'none stated')}`,
    screen: 'start',
  })
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
      for (const f of draft.findings.filter((one) => one.step === step)) {
        const place = [
          f.heightM === null ? null : `${f.heightM} m up`,
          f.bearingDeg === null ? null : `facing ${Math.round(f.bearingDeg)}°`,
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
  lines.push(...ratingLines(draft))
  for (const work of draft.works)
    lines.push({
      words: ended(
        `Proposed: ${work.description.replace(/\.+$/, '')}${work.dueOn ? `, by ${sayDate(work.dueOn)}` : ''}`,
      ),
      screen: 'works',
    })
  if (draft.urgentNote)
    lines.push({
      words: `Urgent note: ${draft.urgentNote.toldWhom} was told ${draft.urgentNote.toldHow}; people are ${draft.urgentNote.keptOut ? '' : 'not '}kept out. ${draft.urgentNote.interimClosure}`,
      screen: 'urgent',
    })
  const minutes = Math.round(minutesOf(draft))
  lines.push({
    words: `${minutes < 1 ? 'Less than a minute' : minutes === 1 ? '1 minute' : `${minutes} minutes`} at the seven steps.`,
    screen: lookingSteps[0],
  })
  return lines
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
