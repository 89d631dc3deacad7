import { z } from 'zod'
import { scenarioParts } from '../words.ts'
import { bearingDeg, civilDate, id, instant, note, position, text } from './common.ts'
import { type FailureInput, failureInput, ratingInput, urgentNoteInput, workInput } from './judgement.ts'
import { bordersInput, probeInput } from './probe.ts'
import { treeInput } from './tree.ts'
import { photo, visitInput, walkOverInput } from './visit.ts'

/** All that closes with a visit, in one message. */
export const closingInput = z.object({
  visit: visitInput,
  rating: ratingInput.nullable(),
  works: z.array(workInput).max(40),
  urgentNote: urgentNoteInput.nullable(),
})
export type ClosingInput = z.infer<typeof closingInput>

/** What an event of a tree says: something that asks for an earlier look. */
export const treeEventInput = z.object({
  id,
  treeId: id,
  kind: text(60),
  on: civilDate,
  lookWithinDays: z.int().min(0).max(3650).nullable(),
  note: note.default(''),
})
export type TreeEventInput = z.infer<typeof treeEventInput>

/** A photo's particulars; its bytes travel by their digest, ahead of it. */
export const photoInput = photo.omit({ mediaType: true })
export type PhotoInput = z.infer<typeof photoInput>

/** A tree met on the way that no sheet names: new to the inventory, or found fallen. */
export const foundTreeInput = z.object({
  id,
  tree: treeInput,
  /** The day it is put on, as its last open stop; null for none. */
  stop: z
    .object({ id, daySheetId: id, level: z.union([z.literal(1), z.literal(2), z.literal(3)]) })
    .nullable(),
  fallen: z.object({ failureId: id, part: z.enum(scenarioParts), lies: bearingDeg.nullable() }).nullable(),
})
export type FoundTreeInput = z.infer<typeof foundTreeInput>

/** The failure of a tree found fallen. `lies`: towards where, degrees from true north; null where nobody could tell. */
export const foundFallen = ({
  lies,
  ...said
}: Pick<FailureInput, 'id' | 'treeId' | 'place' | 'on' | 'part'> & {
  lies: number | null
}): FailureInput => ({
  ...said,
  gustMps: null,
  hit: '',
  nearMiss: false,
  note: `Found fallen on this day; when it fell is not known.${lies === null ? '' : ` It lies towards ${Math.round(lies)}°.`}`,
})

/** A change to a tree's record, with the version it was made from. */
export const treeChangeInput = z.object({ treeId: id, version: z.int().min(1), tree: treeInput })
export type TreeChangeInput = z.infer<typeof treeChangeInput>

/** How a stop of an issued day ended. */
export const stopEndInput = z.object({
  stopId: id,
  visitId: id.nullable(),
  skippedBecause: text(400).nullable(),
})
/** A tree of the inventory put on an issued day by the crew. */
export const stopAddedInput = z.object({
  stopId: id,
  daySheetId: id,
  treeId: id,
  level: z.union([z.literal(1), z.literal(2), z.literal(3)]),
  because: text(400),
})
/** The order in which a crew means to go to its open stops. */
export const dayOrderInput = z.object({ daySheetId: id, stopIds: z.array(id).min(1).max(500), because: note })
/** Open stops given to another crew for the same day. */
export const handOverInput = z.object({
  daySheetId: id,
  toCrewId: id,
  stopIds: z.array(id).min(1).max(500),
  because: text(400),
})
export type StopEndInput = z.infer<typeof stopEndInput>
export type StopAddedInput = z.infer<typeof stopAddedInput>
export type DayOrderInput = z.infer<typeof dayOrderInput>
export type HandOverInput = z.infer<typeof handOverInput>

/** What can be entered on a device and sent to the office, each with the form of its body. The order is that of sending: people first. */
export const entryBodies = {
  'urgent-note': urgentNoteInput,
  closing: closingInput,
  'found-tree': foundTreeInput,
  'tree-change': treeChangeInput,
  'visit-draft': visitInput,
  reading: probeInput,
  borders: z.object({ probeId: id, borders: bordersInput }),
  failure: failureInput,
  'tree-event': treeEventInput,
  'walk-over': walkOverInput,
  'stop-added': stopAddedInput,
  'stop-end': stopEndInput,
  'day-order': dayOrderInput,
  'hand-over': handOverInput,
  photo: photoInput,
} as const
export type EntryKind = keyof typeof entryBodies
export const entryKinds = Object.keys(entryBodies) as EntryKind[]
export type EntryBody<K extends EntryKind> = z.infer<(typeof entryBodies)[K]>

/** One thing a person entered on a device. `key` names it for ever: the same entry sent again is stored once. */
export const entryEnvelope = z.object({
  key: id,
  kind: z.string().max(40),
  authorId: z.string().min(1).max(80).describe('who entered it; it stays theirs whoever sends it'),
  madeAt: instant.describe("by the device's clock"),
  clockOffsetMs: z
    .number()
    .min(-4e11)
    .max(4e11)
    .nullable()
    .describe('office minus device at the last contact before it was made; null where there was none'),
  body: z.unknown(),
})
export type EntryEnvelope = z.infer<typeof entryEnvelope>

/** The form of batches and entries that this program writes. Older ones are read for as long as a device may bring them. */
export const entryFormat = 4
export const oldestEntryFormat = 1
export const batchLimits = { entries: 50, pieceBytes: 1_048_576 } as const

/** Entries in one message, each judged on its own. */
export const batchInput = z.object({
  format: z.int().min(oldestEntryFormat),
  deviceId: id,
  sentAt: instant.describe("by the device's clock"),
  entries: z.array(entryEnvelope).max(batchLimits.entries),
})
export type BatchInput = z.infer<typeof batchInput>

/**
 * What became of an entry. `taken`: it is on record. `beside`: somebody else had changed the record, and both versions are kept for
 * the office to choose. `refused`: it stays with its person, with the reasons. `later`: nothing was decided; send it again.
 */
export const entryVerdicts = ['taken', 'beside', 'refused', 'later'] as const
export type EntryVerdict = (typeof entryVerdicts)[number]
export const entryAnswer = z.object({
  key: id,
  verdict: z.enum(entryVerdicts),
  again: z.boolean().describe('it was on record already; nothing was written'),
  refusals: z.array(
    z.object({
      code: z.string(),
      path: z.string(),
      value: z.unknown().optional(),
      limit: z.string().optional(),
      message: z.string(),
    }),
  ),
  answer: z.unknown().describe('what the same request alone would have answered; null for none'),
})
export type EntryAnswer = z.infer<typeof entryAnswer>

export const batchAnswer = z.object({
  officeNow: instant,
  clockOffsetMs: z.number().describe('office minus device, as this message arrived'),
  /** Rises with each entry taken. Lower than a device has seen before: the office was restored from a copy. */
  officeMark: z.int().min(0),
  answers: z.array(entryAnswer),
})
export type BatchAnswer = z.infer<typeof batchAnswer>

/** Two versions of one record, made from the same earlier one: the stored one and the one that came after. */
export const secondVersion = z.object({
  id,
  kind: z.enum(['tree']),
  subjectId: id,
  /** The version that both began from. */
  fromVersion: z.int().min(1),
  offered: treeInput,
  personName: z.string(),
  madeAt: instant,
  receivedAt: instant,
  state: z.enum(['open', 'chosen']),
  chosenBy: z.string().nullable(),
  chosenAt: instant.nullable(),
})
export type SecondVersion = z.infer<typeof secondVersion>

/** Where a device stands, as its browser says. */
export const fix = z.object({ position, accuracyM: z.number().min(0), at: instant })
export type Fix = z.infer<typeof fix>
