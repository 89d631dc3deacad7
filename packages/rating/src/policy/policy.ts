import {
  changeWords,
  type OccupancyWord,
  occupancyWords,
  type PartSizeWord,
  partSizeWords,
  type RiskWord,
  riskWords,
  visitLevels,
} from '@underbough/model'
import { z } from 'zod'

export const eventKinds = [
  'gust',
  'digging',
  'failure-nearby',
  'complaint',
  'second-look',
  'zone-changed',
] as const
/** What asks for a look outside the interval. `digging` is in the root zone; `second-look` follows an instrument reading. */
export type EventKind = (typeof eventKinds)[number]

export const leafPreferences = ['any', 'in-leaf', 'out-of-leaf'] as const
export type LeafPreference = (typeof leafPreferences)[number]

export const deadlineWords = ['low', 'moderate', 'high', 'extreme', 'imminent'] as const
/** The risk words and, beyond them, imminent failure. */
export type DeadlineWord = (typeof deadlineWords)[number]

const byUse = <T extends z.ZodType>(cell: T) => z.record(z.enum(occupancyWords), cell)
const byRisk = <T extends z.ZodType>(cell: T) => z.record(z.enum(riskWords), cell)
const level = z.union([z.literal(visitLevels[0]), z.literal(visitLevels[1]), z.literal(visitLevels[2])])
const monthsOfYear = z.array(z.int().min(1).max(12)).max(12)

const tables = <M extends z.ZodType, D extends z.ZodType, L extends z.ZodType>(
  months: M,
  days: D,
  visitLevel: L,
) =>
  z.object({
    edition: z.string().trim().min(1).max(80),
    months: byUse(z.record(z.enum(partSizeWords), z.record(z.enum(changeWords), months))).describe(
      'months from look to look by use of the zone, size of the part and expected rate of change',
    ),
    capMonths: byRisk(byUse(months)).describe('never longer than this, by risk that remains and use'),
    levels: z
      .record(z.enum(['unrated', ...riskWords]), byUse(visitLevel))
      .describe('level of visit that counts as the look'),
    graceDays: byRisk(days).describe('how far past its date a look may wait for its season'),
    season: z.object({
      prefer: z.enum(leafPreferences).describe('leaf state in which a look is wanted'),
      months: z
        .object({ 'in-leaf': monthsOfYear, 'out-of-leaf': monthsOfYear })
        .describe('of the northern hemisphere, 1 to 12; the southern is six months on'),
      keepShare: z
        .number()
        .min(0.5)
        .max(1)
        .describe('share of the interval that must be kept when a look is moved earlier'),
    }),
    baselineMonths: byUse(months).describe('first look at a tree nobody has seen, months from its import'),
    workDays: z
      .record(z.enum(deadlineWords), days)
      .describe('deadline of a work that has no date of its own'),
    unratedRisk: z.enum(riskWords).describe('word whose cap holds while a tree has been seen and not rated'),
    partSizeFromCm: z.object({ medium: z.number().gt(0).max(500), large: z.number().gt(0).max(500) }),
    events: z.record(
      z.enum(eventKinds),
      z.object({ withinDays: z.int().min(0).max(3650), level, sameDayCounts: z.boolean() }),
    ),
    riskWeights: byRisk(z.number().gt(0).max(1e6)).describe('weight of one day late'),
  })

const aMonth = z.int().min(1).max(240)
const aDay = z.int().min(0).max(3650)

/** A policy while it is edited: cells may be empty. `checkPolicy` names what is missing. */
export const policyDraft = tables(aMonth.nullish(), aDay.nullish(), level.nullish())
/** A policy in force: every cell filled. Stored as JSON; read it with `readPolicy`, which checks its order too. */
export const policySchema = tables(aMonth, aDay, level)

export type PolicyDraft = z.infer<typeof policyDraft>
export type Policy = z.infer<typeof policySchema>

/** Size word of a part from its diameter where it would break, centimetres. */
export function partSizeOf(diameterCm: number, policy: Policy): PartSizeWord {
  if (diameterCm >= policy.partSizeFromCm.large) return 'large'
  return diameterCm >= policy.partSizeFromCm.medium ? 'medium' : 'small'
}

/** Months from look to look for one case, and which of the two tables gave the shorter one. */
export function intervalOf(
  policy: Policy,
  of: {
    use: OccupancyWord
    partSize: PartSizeWord
    changeRate: (typeof changeWords)[number]
    risk: RiskWord
  },
): { months: number; byRisk: boolean } {
  const table = policy.months[of.use][of.partSize][of.changeRate]
  const cap = policy.capMonths[of.risk][of.use]
  return { months: Math.min(table, cap), byRisk: cap < table }
}
