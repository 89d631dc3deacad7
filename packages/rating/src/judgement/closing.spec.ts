import { lookingSteps, type VisitInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { missingToClose } from './closing.ts'

const visit = (over: Partial<VisitInput> = {}): VisitInput => ({
  id: '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a11',
  treeId: '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a12',
  level: 2,
  startedAt: '2026-11-25T09:05:00Z',
  endedAt: '2026-11-25T09:25:00Z',
  weather: 'Dry',
  leafState: 'in-leaf',
  assignment: {
    scope: 'Tree 0417',
    level: 2,
    levelReason: '',
    timeFrameYears: 3,
    targets: 'The bandstand',
    limits: '',
  },
  steps: lookingSteps.map((step) => ({
    step,
    result: 'nothing-found',
    notSeenBecause: null,
    seconds: 30,
    accuracyM: null,
  })),
  findings: [],
  couldNotSee: '',
  positionAccuracyM: null,
  ...over,
})
const paths = (input: VisitInput) => missingToClose(input).map((r) => `${r.code} ${r.path}`)

// Common practice, no source: a basic look goes round the whole tree, from its surroundings to its twigs, and its report says
// what could not be seen and why; without scope, time frame and targets the words of a rating mean nothing.
describe('what a visit needs before it closes', () => {
  it('lets a whole visit close', () => {
    expect(paths(visit())).toEqual([])
  })
  it('names every step without an answer, in the order of looking', () => {
    const steps = visit().steps.filter(({ step }) => step !== 'stem' && step !== 'surroundings')
    expect(paths(visit({ steps }))).toEqual([
      'visit-step-unanswered visit.steps.surroundings',
      'visit-step-unanswered visit.steps.stem',
    ])
  })
  it('wants a reason for what was not seen, and a name for what was found', () => {
    const steps = visit().steps
    steps[3] = { step: 'base', result: 'not-seen', notSeenBecause: null, seconds: 5, accuracyM: null }
    steps[4] = { step: 'stem', result: 'findings', notSeenBecause: null, seconds: 5, accuracyM: null }
    const open = visit({ steps })
    expect(paths(open)).toEqual([
      'visit-step-unanswered visit.steps.base',
      'visit-step-unanswered visit.steps.stem',
    ])
    steps[3].notSeenBecause = 'Ivy'
    const found = {
      id: '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a13',
      step: 'stem' as const,
      kind: 'Opening',
      heightM: 2.1,
      bearingDeg: 111,
      extent: '',
      note: '',
    }
    expect(paths({ ...open, findings: [found] })).toEqual([])
    expect(paths({ ...open, findings: [{ ...found, step: 'base' }] })).toEqual([
      'visit-step-unanswered visit.steps.stem',
    ])
  })
  it('wants an assignment and an end', () => {
    expect(paths(visit({ assignment: null, endedAt: null }))).toEqual([
      'visit-no-assignment visit.assignment',
      'required visit.endedAt',
    ])
  })
})
