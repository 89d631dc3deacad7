import { z } from 'zod'
import { leafStates, lookingSteps, stepResults } from '../words.ts'
import { bearingDeg, civilDate, id, instant, note, position, text } from './common.ts'

const level = z.union([z.literal(1), z.literal(2), z.literal(3)])

/** What the looking is for. Failure words mean nothing without the time frame. */
export const assignment = z.object({
  scope: text(400),
  level,
  levelReason: note,
  timeFrameYears: z.int().min(1).max(5),
  targets: text(400).describe('targets as the client states them'),
  limits: note,
})
export type Assignment = z.infer<typeof assignment>

export const stepAnswer = z.object({
  step: z.enum(lookingSteps),
  result: z.enum(stepResults),
  notSeenBecause: z.string().trim().max(400).nullable(),
  seconds: z.int().min(0).max(86_400).describe('time spent at this step'),
  accuracyM: z
    .number()
    .min(0)
    .max(100_000)
    .nullable()
    .default(null)
    .describe('best accuracy of the position while at this step; null where the device gave none'),
})
export type StepAnswer = z.infer<typeof stepAnswer>

export const findingInput = z.object({
  id,
  step: z.enum(lookingSteps),
  kind: text(80).describe('for example: bracket fungus, opening, dead limb'),
  heightM: z.number().min(0).max(130).nullable(),
  bearingDeg: bearingDeg.nullable(),
  extent: z.string().trim().max(160).describe('size in words with units, for example 46 × 21 cm'),
  note,
})
export const finding = findingInput.extend({ visitId: id, treeId: id })
export type FindingInput = z.infer<typeof findingInput>
export type Finding = z.infer<typeof finding>

/** A visit as it is entered; `close` asks for everything a closed visit must have. */
export const visitInput = z.object({
  id: id.describe('made on the device, so that sending twice stores once'),
  treeId: id,
  level,
  startedAt: instant,
  endedAt: instant.nullable(),
  weather: z.string().trim().max(160),
  leafState: z.enum(leafStates),
  assignment: assignment.nullable(),
  steps: z.array(stepAnswer).max(lookingSteps.length),
  findings: z.array(findingInput).max(200),
  couldNotSee: note,
  positionAccuracyM: z.number().min(0).max(10_000).nullable(),
})
export type VisitInput = z.infer<typeof visitInput>
export const visit = visitInput.extend({
  stage: z.enum(['draft', 'closed']),
  personId: z.string(),
  personName: z.string(),
  closedAt: instant.nullable(),
  clockOffsetMs: z
    .number()
    .nullable()
    .describe('office minus device; the times of the visit are the office’s, put right by it'),
})
export type Visit = z.infer<typeof visit>

/** One limited look over a whole zone: all trees there looked at on that day, only these need notes. */
export const walkOverInput = z.object({
  id,
  zoneId: id,
  on: civilDate,
  treeIds: z
    .array(id)
    .max(5000)
    .default([])
    .describe('every tree looked at; empty in records made before they were named one by one'),
  notes: z.array(z.object({ treeId: id, note })),
  remark: note,
})
export type WalkOverInput = z.infer<typeof walkOverInput>

/** A photo belongs to a visit, a finding, a probe, a failure or an urgent note. The original bytes are kept; the digest is over them. */
export const photo = z.object({
  id,
  ownerKind: z.enum(['visit', 'finding', 'probe', 'failure', 'urgent-note', 'tree']),
  ownerId: id,
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  bytes: z.int().min(1),
  mediaType: z.string(),
  takenAt: instant.nullable(),
  position: position.nullable(),
  caption: z.string().max(400),
  copyOf: id.nullable().default(null).describe('the original that this is a copy of'),
  copyKind: z
    .enum(['screen', 'marked'])
    .nullable()
    .default(null)
    .describe('smaller for screens and sharing, or with marks drawn on it; null for an original'),
})
export type Photo = z.infer<typeof photo>
