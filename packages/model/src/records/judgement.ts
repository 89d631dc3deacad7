import { z } from 'zod'
import {
  changeWords,
  consequenceWords,
  decisionAnswers,
  failureWords,
  impactWords,
  jointWords,
  partSizeWords,
  protectionWords,
  riskWords,
  scenarioParts,
  workKinds,
  workStates,
} from '../words.ts'
import { bearingDeg, civilDate, id, instant, note, text } from './common.ts'

/** What one failing part would mean for one target. `impact` and `consequences` are the inspector's words; `proposedImpact` is the computed one. */
export const scenarioTarget = z.object({
  zoneId: id.nullable().describe('null for a target that is not a zone on the map'),
  targetName: text(160),
  protection: z.enum(protectionWords),
  proposedImpact: z.enum(impactWords),
  impact: z.enum(impactWords),
  impactReason: note.describe('asked for where impact differs from the proposal'),
  consequences: z.enum(consequenceWords),
})
export type ScenarioTarget = z.infer<typeof scenarioTarget>

export const scenario = z.object({
  id,
  part: z.enum(scenarioParts),
  partSize: z.enum(partSizeWords),
  heightM: z.number().min(0).max(130).nullable(),
  description: text(400).describe('one sentence: what fails and where it falls'),
  failure: z.enum(failureWords),
  knownBearingDeg: bearingDeg.nullable(),
  lengthM: z.number().gt(0).max(60).nullable().optional().describe('of a limb; from the crown unless said'),
  diameterCm: z
    .number()
    .gt(0)
    .max(400)
    .nullable()
    .optional()
    .describe('of a limb at its union; from the stem unless said'),
  reachM: z
    .number()
    .gt(0)
    .max(200)
    .nullable()
    .optional()
    .describe("of a stem from the tree's foot; the whole height unless said, and never less"),
  targets: z.array(scenarioTarget).max(40),
})
export type Scenario = z.infer<typeof scenario>

/** What an inspector enters; joint words and risk are computed, an override keeps both and needs a reason. */
export const ratingInput = z.object({
  id,
  treeId: id,
  visitId: id,
  timeFrameYears: z.int().min(1).max(5),
  changeRate: z.enum(changeWords),
  scenarios: z.array(scenario).max(20),
  overrideRisk: z.enum(riskWords).nullable(),
  overrideReason: note,
  residualRisk: z.enum(riskWords).nullable().describe('risk that would remain after the proposed work'),
})
export type RatingInput = z.infer<typeof ratingInput>

export const rating = ratingInput.extend({
  personName: z.string(),
  ratedAt: instant,
  worst: z.object({
    scenarioId: id,
    targetName: z.string(),
    failure: z.enum(failureWords),
    impact: z.enum(impactWords),
    joint: z.enum(jointWords),
    consequences: z.enum(consequenceWords),
    risk: z.enum(riskWords),
  }),
  computedRisk: z.enum(riskWords),
  risk: z.enum(riskWords).describe('the computed risk, or the override'),
  matricesEdition: z.string(),
  policyEdition: z.string(),
  methodVersion: z.string(),
  reopenedBecause: z.string().nullable().describe('set when a zone it used has changed since'),
})
export type Rating = z.infer<typeof rating>

export const workInput = z.object({
  id,
  treeId: id,
  visitId: id.nullable(),
  kind: z.enum(workKinds),
  description: text(400),
  dueOn: civilDate.nullable(),
  cost: z.number().min(0).nullable(),
  residualRisk: z.enum(riskWords).nullable(),
})
export const work = workInput.extend({
  state: z.enum(workStates),
  doneOn: civilDate.nullable(),
  doneBy: z.string().nullable(),
  decision: z
    .object({ answer: z.enum(decisionAnswers), by: z.string(), on: civilDate, reason: note })
    .nullable()
    .describe("the owner's answer to the recommendation"),
})
export type WorkInput = z.infer<typeof workInput>
export type Work = z.infer<typeof work>

/** Imminent failure or extreme risk: said before anything else, shown until acknowledged. */
export const urgentNoteInput = z.object({
  id,
  treeId: id,
  visitId: id.nullable(),
  keptOut: z.boolean().describe('people are kept out of the area'),
  toldWhom: text(200),
  toldHow: text(120),
  toldAt: instant,
  interimClosure: note,
})
export const urgentNote = urgentNoteInput.extend({
  personName: z.string(),
  writtenAt: instant,
  acknowledgedBy: z.string().nullable(),
  acknowledgedAt: instant.nullable(),
  whatWasDone: z.string().nullable().describe('by the office, in the words of the one who acknowledged it'),
})
/** The office has read a note: what it did about it. */
export const acknowledgeInput = z.object({ whatWasDone: text(400) })
export type UrgentNoteInput = z.infer<typeof urgentNoteInput>
export type UrgentNote = z.infer<typeof urgentNote>

export const failureInput = z.object({
  id,
  treeId: id.nullable(),
  place: z.tuple([z.number().min(-180).max(180), z.number().min(-90).max(90)]).nullable(),
  on: civilDate,
  part: z.enum(scenarioParts),
  gustMps: z.number().min(0).max(120).nullable(),
  hit: note.describe('what it hit; empty for nothing'),
  nearMiss: z.boolean(),
  note,
})
export type FailureInput = z.infer<typeof failureInput>

/** When a tree must be looked at again, or its work done, and why, in one sentence. */
export const due = z.object({
  treeId: id,
  on: civilDate,
  kind: z.enum(['look', 'work', 'baseline']),
  level: z.union([z.literal(1), z.literal(2), z.literal(3)]),
  reason: z.string(),
  outOfSeason: z.boolean(),
  /** The look that waits under a late work; null when the due date is the look itself. */
  lookOn: civilDate.nullable(),
  policyEdition: z.string(),
})
export type Due = z.infer<typeof due>
