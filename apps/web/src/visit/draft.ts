import {
  type Assignment,
  assignment as assignmentSchema,
  type CivilDate,
  type FindingInput,
  type LeafState,
  type LookingStep,
  lookingStepNames,
  lookingSteps,
  type OccupancyWord,
  type Organisation,
  type StepAnswer,
  type StepResult,
  type Tree,
  type UrgentNoteInput,
  type Visit,
  type VisitInput,
  type WorkInput,
} from '@underbough/model'
import { type Policy, seasonMonths } from '@underbough/rating'
import type { TreeExposureView, TreeWhole } from '../api/index.ts'
import type { RatingDraft } from './judgement.ts'
import type { UrgentBegun } from './told.ts'

/** `short` shows all seven steps of a limited look on one screen. */
export type Screen = 'start' | LookingStep | 'short' | 'rating' | 'works' | 'urgent' | 'closing'

/** What a person has entered so far. It lives on the device until the office has closed it; plain values only. */
export interface Draft {
  id: string
  treeId: string
  personId: string
  startedAt: string
  screen: Screen
  weather: string
  leafState: LeafState
  assignment: Assignment
  answers: Partial<Record<LookingStep, { result: StepResult; notSeenBecause: string | null }>>
  /** Seconds spent at each step while it was on the screen. */
  seconds: Partial<Record<LookingStep, number>>
  /** Best accuracy of the position while at each step, metres; left out where the device gave none. */
  accuracyM?: Partial<Record<LookingStep, number>>
  /** What stands open on the screen: a finding's id, or a step of the short form. */
  open?: string | null
  /** From where a limited look was made. */
  seenFrom?: string
  findings: FindingInput[]
  couldNotSee: string
  /** Null until the rating screen was opened. */
  rating: RatingDraft | null
  /** The rating in force stays and none is made on this visit. */
  leaveRating: boolean
  works: WorkInput[]
  urgentNote: UrgentNoteInput | null
  /** The urgent note as far as it is written; absent in drafts of earlier forms of this program. */
  urgentBegun?: UrgentBegun | null
  /** Where the person was when the urgent note came before it. */
  urgentFrom?: Screen
  /** Set by the person's own press of the button that closes. */
  endedAt: string | null
}

/** All that proposals for a new visit are made from. */
export interface Ground {
  whole: TreeWhole
  exposure: TreeExposureView | null
  organisation: Pick<Organisation, 'hemisphere' | 'failureTimeFrameYears' | 'timeZone'>
  policy: Policy | null
  /** The trade's word for the use of each zone; left out by older versions. */
  wordOf?: Record<string, OccupancyWord>
  /** Who is under the tree was worked out on this device. */
  reckonedHere?: boolean
}

const usualLimits = 'From the ground; nothing dug, nothing climbed.'

/** A visit not yet begun: assignment and leaves as the last visit, the due look and the season suggest. */
export function newDraft(ground: Ground, personId: string, now: Date, id: string, today: CivilDate): Draft {
  const { whole, exposure, organisation, policy } = ground
  const last = whole.visits.find((visit) => visit.stage === 'closed')
  const level = whole.due?.level ?? last?.level ?? 2
  const names = exposure?.zones.slice(0, 3).map((zone) => zone.name) ?? []
  return {
    id,
    treeId: whole.tree.id,
    personId,
    startedAt: now.toISOString(),
    screen: 'start',
    weather: '',
    leafState: leafStateOf(last ?? null, organisation, policy, today),
    assignment: {
      scope: last?.assignment?.scope ?? scopeOf(whole.tree),
      level,
      levelReason: (whole.due?.reason ?? last?.assignment?.levelReason ?? '').slice(0, 4000),
      timeFrameYears: last?.assignment?.timeFrameYears ?? organisation.failureTimeFrameYears,
      targets: last?.assignment?.targets ?? (names.join('; ') || 'Nobody regularly within reach'),
      limits: last?.assignment?.limits || usualLimits,
    },
    answers: {},
    seconds: {},
    findings: [],
    couldNotSee: '',
    rating: null,
    leaveRating: false,
    works: [],
    urgentNote: null,
    endedAt: null,
  }
}
const scopeOf = (tree: Tree) => [`Tree ${tree.tag}`, tree.owner].filter(Boolean).join(', ')

function leafStateOf(
  last: Visit | null,
  { hemisphere }: Ground['organisation'],
  policy: Policy | null,
  today: CivilDate,
): LeafState {
  if (last?.leafState === 'evergreen') return 'evergreen'
  if (!policy) return 'in-leaf'
  const month = Number(today.slice(5, 7))
  if (seasonMonths('in-leaf', hemisphere, policy)?.has(month)) return 'in-leaf'
  return seasonMonths('out-of-leaf', hemisphere, policy)?.has(month) ? 'out-of-leaf' : 'part-leaf'
}

/** A draft kept in the office, taken up again on another device. */
export function draftOf(visit: Visit, fresh: Draft): Draft {
  return {
    ...fresh,
    id: visit.id,
    startedAt: visit.startedAt,
    weather: visit.weather,
    leafState: visit.leafState,
    assignment: visit.assignment ?? fresh.assignment,
    answers: Object.fromEntries(
      visit.steps.map(({ step, result, notSeenBecause }) => [step, { result, notSeenBecause }]),
    ),
    seconds: Object.fromEntries(visit.steps.map(({ step, seconds }) => [step, seconds])),
    accuracyM: Object.fromEntries(
      visit.steps.flatMap(({ step, accuracyM }) => (accuracyM === null ? [] : [[step, accuracyM]])),
    ),
    findings: visit.findings.map(({ id, step, kind, heightM, bearingDeg, extent, note }) => ({
      id,
      step,
      kind,
      heightM,
      bearingDeg,
      extent,
      note,
    })),
    couldNotSee: visit.couldNotSee,
  }
}

/** Answers a step. What was found stays with the draft, so that a slip of the thumb loses nothing; only `foundOf` goes on record. */
export function answer(
  draft: Draft,
  step: LookingStep,
  result: StepResult,
  notSeenBecause: string | null = null,
): Draft {
  return {
    ...draft,
    answers: { ...draft.answers, [step]: { result, notSeenBecause } },
  }
}
/** The findings that go on record: those of steps that say something was found. */
export const foundOf = (draft: Pick<Draft, 'answers' | 'findings'>): FindingInput[] =>
  draft.findings.filter((f) => draft.answers[f.step]?.result === 'findings' && f.kind.trim() !== '')

export function addFinding(draft: Draft, step: LookingStep, kind: string, id: string): Draft {
  const finding: FindingInput = { id, step, kind, heightM: null, bearingDeg: null, extent: '', note: '' }
  return { ...answer(draft, step, 'findings'), findings: [...draft.findings, finding] }
}
export const changeFinding = (draft: Draft, id: string, part: Partial<FindingInput>): Draft => ({
  ...draft,
  findings: draft.findings.map((finding) => (finding.id === id ? { ...finding, ...part } : finding)),
})
export const removeFinding = (draft: Draft, id: string): Draft => ({
  ...draft,
  findings: draft.findings.filter((finding) => finding.id !== id),
})
export const addSeconds = (draft: Draft, step: LookingStep, seconds: number): Draft => ({
  ...draft,
  seconds: { ...draft.seconds, [step]: (draft.seconds[step] ?? 0) + seconds },
})
/** Keeps the best accuracy met at these steps. The same draft where none became better by half a metre. */
export function addAccuracy(draft: Draft, steps: readonly LookingStep[], metres: number): Draft {
  const known = draft.accuracyM ?? {}
  const better = steps.filter((step) => metres < (known[step] ?? Number.POSITIVE_INFINITY) - BETTER_BY_M)
  if (better.length === 0) return draft
  const accuracyM = { ...known }
  for (const step of better) accuracyM[step] = Math.round(metres * 10) / 10
  return { ...draft, accuracyM }
}
/** Less is noise, and not worth a write. */
const BETTER_BY_M = 0.5
/** Best accuracy of any step, metres; null where there was no position. */
export function bestAccuracyM(draft: Draft): number | null {
  const all = Object.values(draft.accuracyM ?? {})
  return all.length > 0 ? Math.min(...all) : null
}

/** Answers every step that has no answer yet: seen, nothing found. */
export const answerRest = (draft: Draft): Draft =>
  lookingSteps.reduce((d, step) => (d.answers[step] ? d : answer(d, step, 'nothing-found')), draft)

/** Where the looking goes on: a limited look has one screen, the others one for each step. */
export const screenOfStep = (draft: Draft, step: LookingStep): Screen =>
  draft.assignment.level === 1 ? 'short' : step

/** The limits of the looking as they go on record: a limited look says from where it was made. */
export function limitsOf(draft: Draft): string {
  const { level, limits } = draft.assignment
  const from = draft.seenFrom?.trim()
  return level === 1 && from ? `Seen from ${from.replace(/\.+$/, '')}. ${limits}`.trim() : limits
}

/** Minutes at all steps together. */
export const minutesOf = (draft: Draft): number =>
  Object.values(draft.seconds).reduce((sum, seconds) => sum + seconds, 0) / 60

/** The step after this one; null after the last. */
export function nextStep(step: LookingStep): LookingStep | null {
  return lookingSteps[lookingSteps.indexOf(step) + 1] ?? null
}
export const stepTitle = (step: LookingStep) => `${lookingSteps.indexOf(step) + 1} ${lookingStepNames[step]}`
export const stepName = (step: LookingStep) => lookingStepNames[step].toLowerCase()

/** The first step without an answer, in order; null when all seven have one. */
export const firstOpen = (draft: Draft): LookingStep | null =>
  lookingSteps.find((step) => !draft.answers[step]) ?? null

/** What could not be seen, from the steps, unless the person put it in their own words. */
export function couldNotSeeOf(draft: Draft): string {
  const said = lookingSteps.flatMap((step) => {
    const given = draft.answers[step]
    return given?.result === 'not-seen' && given.notSeenBecause
      ? [`${lookingStepNames[step]}: ${given.notSeenBecause.trim().replace(/\.+$/, '')}.`]
      : []
  })
  return draft.couldNotSee || said.join(' ')
}

/** The visit as the office takes it. An assignment that is not whole yet is left out of a draft. */
export function visitOf(draft: Draft): VisitInput {
  const steps = lookingSteps.flatMap((step): StepAnswer[] => {
    const given = draft.answers[step]
    return given
      ? [
          {
            step,
            ...given,
            seconds: Math.round(draft.seconds[step] ?? 0),
            accuracyM: draft.accuracyM?.[step] ?? null,
          },
        ]
      : []
  })
  const assignment = assignmentSchema.safeParse({ ...draft.assignment, limits: limitsOf(draft) })
  return {
    id: draft.id,
    treeId: draft.treeId,
    level: draft.assignment.level,
    startedAt: draft.startedAt,
    endedAt: draft.endedAt,
    weather: draft.weather,
    leafState: draft.leafState,
    assignment: assignment.success ? assignment.data : null,
    steps,
    findings: foundOf(draft),
    couldNotSee: couldNotSeeOf(draft),
    positionAccuracyM: positionAccuracyOf(draft),
  }
}

/** The record takes no more than this; a place less certain says nothing, metres. */
const MOST_ACCURACY_M = 10_000
function positionAccuracyOf(draft: Draft): number | null {
  const best = bestAccuracyM(draft)
  return best !== null && best <= MOST_ACCURACY_M ? best : null
}
