import { z } from 'zod'
import { civilDate, id, instant, text } from './common.ts'
import { windRose } from './place.ts'

export const windUnits = ['mps', 'kmh', 'kn', 'mph'] as const
export type WindUnit = (typeof windUnits)[number]
/** One of the unit in metres per second; a knot is 1852 m an hour, a mile 1609.344 m (both exact). */
export const mpsPer: Record<WindUnit, number> = {
  mps: 1,
  kmh: 1 / 3.6,
  kn: 1852 / 3600,
  mph: 1609.344 / 3600,
}
export const windUnitNames: Record<WindUnit, string> = { mps: 'm/s', kmh: 'km/h', kn: 'knots', mph: 'mph' }

const column = text(200)

/** How a table of hourly weather is to be read. */
export const windMapping = z.object({
  time: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('one'), column }).describe('day and hour in one column'),
    z.object({ kind: z.literal('two'), date: column, clock: column }),
    z.object({ kind: z.literal('parts'), year: column, month: column, day: column, hour: column }),
  ]),
  timeZone: text(60).describe('IANA name, or UTC; for cells that do not state their own offset'),
  dayFirst: z.boolean().describe('31/12/2025, not 12/31/2025'),
  gust: column,
  direction: column.nullable().describe('where the wind comes from: degrees or points of the compass'),
  mean: column.nullable().describe('mean wind; only to tell an instrument at fault'),
  unit: z.enum(windUnits),
  zeroIsNorth: z.boolean().describe('false where 0 degrees stands for calm or variable'),
  decimalComma: z.boolean(),
  station: z
    .object({ column, value: text(200) })
    .nullable()
    .describe('only rows of one station of several'),
})
export type WindMapping = z.infer<typeof windMapping>

/** Which gusts count as strong. */
export const gustThreshold = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('from'), gustMps: z.number().gt(0).max(100) }),
  z
    .object({ kind: z.literal('share'), share: z.number().gt(0).max(1) })
    .describe('the strongest of all gusts'),
])
export type GustThreshold = z.infer<typeof gustThreshold>

/** What a person says about a file of hourly weather. */
export const windRequest = z.object({
  mapping: windMapping,
  station: text(120).describe('where it was measured'),
  distanceKm: z.number().min(0).max(500).describe('from the station to the site'),
  averagingSeconds: z
    .number()
    .gt(0)
    .max(600)
    .nullable()
    .describe('over which a gust is averaged at this station; null: not known'),
  threshold: gustThreshold,
})
export type WindRequest = z.infer<typeof windRequest>

const counted = z.int().min(0)
/** What became of the rows of a file, and what its gusts say. */
export const windSummary = z.object({
  rows: counted,
  rowsOfOtherStations: counted,
  hours: counted,
  hoursWithGust: counted,
  hoursWithoutGust: counted.describe('no gust reported: not a gust of 0'),
  setAside: counted.describe('wind speeds beyond anything measured on the ground, or below 0'),
  repeated: counted.describe('further rows of an hour that had one'),
  unreadable: counted.describe('rows without a readable hour'),
  skipped: counted.describe('rows at a clock time that did not exist'),
  wordsForNumbers: counted,
  gustsWithoutDirection: counted,
  from: instant,
  to: instant,
  gaps: counted.describe('times between two hours that are more than one hour apart'),
  hoursMissing: counted,
  longestGaps: z.array(z.object({ after: instant, before: instant, hours: counted })),
  strongFromMps: z.number().nullable().describe('gusts from here on count as strong'),
  strongHours: counted.describe('strong gusts with a direction'),
  strongDays: counted,
  hoursByDirection: z.array(z.number()).length(16).describe('hours of strong gusts, north first, clockwise'),
  strongestMps: z.number(),
  notes: z
    .array(z.object({ code: z.string(), message: z.string(), limit: z.string().optional() }))
    .describe('what was set aside, repeated or is missing, in words'),
})
export type WindSummary = z.infer<typeof windSummary>

/** The strongest gust of a day at a site, civil date there. */
export const gustDay = z.object({
  on: civilDate,
  gustMps: z.number(),
  fromDeg: z.number().nullable(),
  at: instant,
  station: z.string(),
})
export type GustDay = z.infer<typeof gustDay>

/** A file of hourly weather that was read for a site. */
export const windFile = windRequest.extend({
  id,
  siteId: id,
  fileName: z.string(),
  summary: windSummary,
  rose: windRose.nullable().describe('null where no strong gust has a direction'),
  replaced: windRose.nullable().describe('the rose the site had before this one was taken'),
  madeBy: z.string(),
  madeAt: instant,
  acceptedBy: z.string().nullable(),
  acceptedAt: instant.nullable(),
})
export type WindFile = z.infer<typeof windFile>
