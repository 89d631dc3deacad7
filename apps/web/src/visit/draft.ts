import {
  type Assignment,
  assignment as assignmentSchema,
  type CivilDate,
  type FindingInput,
  type LeafState,
  type LookingStep,
  lookingStepNames,
  lookingSteps,
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

export type Screen = 'start' | LookingStep | 'rating' | 'works' | 'urgent' | 'closing'

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
  findings: FindingInput[]
  couldNotSee: string
  /** Null until the rating screen was opened. */
  rating: RatingDraft | null
  /** The rating in force stays and none is made on this visit. */
  leaveRating: boolean
  works: WorkInput[]
  urgentNote: UrgentNoteInput | null
  /** Set by the person's own press of the button that closes. */
  endedAt: string | null
}

/** All that proposals for a new visit are made from. */
export interface Ground {
  whole: TreeWhole
  exposure: TreeExposureView | null
  organisation: Pick<Organisation, 'hemisphere' | 'failureTimeFrameYears'>
  policy: Policy | null
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

/** Answers a step. Findings stay with it only while it says that something was found. */
export function answer(
  draft: Draft,
  step: LookingStep,
  result: StepResult,
  notSeenBecause: string | null = null,
): Draft {
  return {
    ...draft,
    answers: { ...draft.answers, [step]: { result, notSeenBecause } },
    findings: result === 'findings' ? draft.findings : draft.findings.filter((f) => f.step !== step),
  }
}
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
    return given ? [{ step, ...given, seconds: Math.round(draft.seconds[step] ?? 0), accuracyM: null }] : []
  })
  const assignment = assignmentSchema.safeParse(draft.assignment)
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
    findings: draft.findings.filter((finding) => finding.kind.trim() !== ''),
    couldNotSee: couldNotSeeOf(draft),
    positionAccuracyM: null,
  }
}
