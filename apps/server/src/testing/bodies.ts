import { randomUUID } from 'node:crypto'
import {
  blankTree,
  type ClosingInput,
  lookingSteps,
  type TreeInput,
  type VisitInput,
} from '@underbough/model'
import { lampGreen } from './examples.ts'

/** A beech as somebody enters it. */
export const treeExample = (changes: Partial<TreeInput> = {}): TreeInput =>
  blankTree({
    tag: `T${randomUUID().slice(0, 8)}`,
    species: 'Fagus sylvatica',
    commonName: 'Beech',
    position: lampGreen,
    positionAccuracyM: 4,
    stems: [{ diameterCm: 94, measuredAtM: 1.3 }],
    heightM: 24.5,
    ...changes,
  })

/** A visit of 25 minutes that may be closed. */
export const visitExample = (treeId: string, changes: Partial<VisitInput> = {}): VisitInput => ({
  id: randomUUID(),
  treeId,
  level: 2,
  startedAt: '2026-11-25T09:05:00Z',
  endedAt: '2026-11-25T09:30:00Z',
  weather: 'dry, light wind',
  leafState: 'in-leaf',
  assignment: {
    scope: 'This tree',
    level: 2,
    levelReason: 'Due',
    timeFrameYears: 3,
    targets: 'The bench',
    limits: '',
  },
  steps: lookingSteps.map((step) => ({
    step,
    result: 'nothing-found',
    notSeenBecause: null,
    seconds: 120,
    accuracyM: null,
  })),
  findings: [],
  couldNotSee: '',
  positionAccuracyM: 4,
  ...changes,
})

/** A visit with a rating whose one scenario meets a bench that is no zone of the map. */
export const closingExample = (
  visit: VisitInput,
  failure: 'possible' | 'probable' = 'possible',
): ClosingInput => ({
  visit,
  rating: {
    id: randomUUID(),
    treeId: visit.treeId,
    visitId: visit.id,
    timeFrameYears: 3,
    changeRate: 'ordinary',
    scenarios: [
      {
        id: randomUUID(),
        part: 'whole-tree',
        partSize: 'large',
        heightM: null,
        description: 'The tree goes over at the root plate towards the bench.',
        failure,
        knownBearingDeg: null,
        targets: [
          {
            zoneId: null,
            targetName: 'Bench',
            protection: 'none',
            proposedImpact: 'medium',
            impact: 'medium',
            impactReason: '',
            consequences: 'severe',
          },
        ],
      },
    ],
    overrideRisk: null,
    overrideReason: '',
    residualRisk: null,
  },
  works: [],
  urgentNote: null,
})

/** An entry as a device sends it, made by an inspector whose clock is right. */
export const entryExample = (kind: string, body: unknown, changes: object = {}) => ({
  key: randomUUID(),
  kind,
  authorId: 'inspector-1',
  madeAt: '2026-11-25T10:00:00Z',
  clockOffsetMs: 0,
  body,
  ...changes,
})
export const batchExample = (entries: unknown[], changes: object = {}) => ({
  format: 3,
  deviceId: 'a2b4c6d8-0000-4000-8000-000000000001',
  sentAt: '2026-11-25T12:00:00Z',
  entries,
  ...changes,
})
