import { z } from 'zod'
import { groundFeatureKinds, occupancyWords, roles, zoneKinds } from '../words.ts'
import {
  areaGeometry,
  civilDate,
  groundGeometry,
  id,
  lineString,
  note,
  position,
  stamped,
  text,
} from './common.ts'

/** Heights above ground at which a stem is measured, by custom of the country, metres. */
export const stemHeightsM = [1.3, 1.37, 1.4, 1.5] as const

export const organisation = z.object({
  id,
  name: text(120),
  timeZone: text(60).describe('IANA name; due dates are civil dates there'),
  hemisphere: z.enum(['north', 'south']),
  stemHeightM: z.number().min(0.1).max(3).describe('height above ground at which stem diameters are taken'),
  units: z.enum(['metric', 'inch-pound']).describe('how figures are shown; they are stored metric'),
  failureTimeFrameYears: z
    .int()
    .min(1)
    .max(5)
    .describe('time frame of the failure words unless an assignment says otherwise'),
})
export type Organisation = z.infer<typeof organisation>

export const member = z.object({
  personId: z.string(),
  name: text(120),
  email: z.email(),
  role: z.enum(roles),
  qualification: text(200).nullable(),
  qualificationExpiresOn: civilDate.nullable(),
})
export type Member = z.infer<typeof member>

/** Share of strong gusts from each of 16 directions, north first, clockwise: where the wind comes from. Sums to 1. */
export const windRose = z.array(z.number().min(0)).length(16)

/** Somebody to be reached when people must be kept out. */
export const contact = z.object({
  name: text(120),
  role: z.string().trim().max(120),
  telephone: text(40),
  note: z.string().trim().max(400).default(''),
})
export type Contact = z.infer<typeof contact>

export const siteInput = z.object({
  name: text(120),
  outline: areaGeometry,
  timeZone: text(60).nullable().describe('only where it differs from the organisation'),
  windRose: windRose.nullable(),
  detourFactor: z
    .number()
    .min(1)
    .max(4)
    .default(1.3)
    .describe('way on the ground divided by the straight line'),
  contacts: z.array(contact).max(12).default([]).describe('whom to call when people must be kept out'),
})
export const site = siteInput.extend({ id, ...stamped })
export type Site = z.infer<typeof site>

export const groundFeatureInput = z.object({
  siteId: id.nullable(),
  kind: z.enum(groundFeatureKinds),
  name: z.string().trim().max(120).nullable(),
  geometry: groundGeometry,
})
export const groundFeature = groundFeatureInput.extend({ id, ...stamped })
export type GroundFeature = z.infer<typeof groundFeature>

const weekHours = z
  .array(z.number().min(0).max(1e6))
  .length(168)
  .describe('hours of the week from Monday 00:00, site time')

/** Who is in a zone, hour by hour of the week, or only the trade's word for it. */
export const occupancyProfile = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('class'),
    word: z.enum(occupancyWords),
    peopleWhenPresent: z.number().min(0).max(1e5),
  }),
  z.object({
    kind: z.literal('standing'),
    arrivalsPerHour: weekHours,
    minutesEach: z.number().min(0).max(1440),
  }),
  z.object({
    kind: z.literal('through'),
    flowPerHour: weekHours,
    speedMps: z.number().gt(0).max(15),
    lengthM: z.number().gt(0).max(1e5),
  }),
  z.object({ kind: z.literal('building'), peopleInside: weekHours }),
  z.object({
    kind: z.literal('vehicles'),
    flowPerHour: weekHours,
    speedKmh: z.number().gt(0).max(200),
    lengthM: z.number().gt(0).max(1e5),
    peoplePerVehicle: z.number().gt(0).max(100),
    lanes: z.int().min(1).max(12).optional().describe('both ways together; 2 unless said'),
    sightDistanceM: z
      .number()
      .gt(0)
      .max(2000)
      .nullable()
      .optional()
      .describe('how far ahead a driver sees something on the road; null: not known'),
  }),
])
export type OccupancyProfile = z.infer<typeof occupancyProfile>

const monthOfYear = z.int().min(1).max(12)
/** Months of the year, 1 January, in which another week holds than in the rest of it. */
export const seasonWeek = z.object({
  name: text(60),
  months: z.array(monthOfYear).min(1).max(12),
  occupancy: occupancyProfile,
})
export type SeasonWeek = z.infer<typeof seasonWeek>
export const seasonWeeks = z
  .array(seasonWeek)
  .max(6)
  .refine((seasons) => {
    const months = seasons.flatMap((season) => season.months)
    return new Set(months).size === months.length
  }, 'each month once')

export const shelterClasses = ['masonry', 'frame', 'light'] as const
/** What a building is made of: how thick a stem it may stop. */
export type ShelterClass = (typeof shelterClasses)[number]

export const zoneInput = z.object({
  siteId: id.nullable(),
  name: text(120),
  kind: z.enum(zoneKinds),
  geometry: areaGeometry,
  fromLine: z
    .object({ line: lineString, widthM: z.number().gt(0).max(200) })
    .nullable()
    .describe('kept when the polygon was made from a line'),
  occupancyWord: z
    .enum(occupancyWords)
    .describe("the trade's class, used by the rating; static targets are constant"),
  occupancy: occupancyProfile.describe('the week, or that of the months no season names'),
  seasons: seasonWeeks.optional().describe('left out of a change: they stay as they are'),
  groupSize: z
    .number()
    .min(1)
    .max(10_000)
    .nullable()
    .optional()
    .describe('people who come together; null: not known, and chances are upper ones'),
  staticTarget: z.boolean().describe('a structure is there always'),
  shelterHeightM: z.number().min(0).max(300).nullable(),
  shelterClass: z.enum(shelterClasses).nullable(),
  valueAtStake: z.number().min(0).max(1e12).nullable().describe("in the organisation's money"),
  partOf: id.nullable().describe('the larger zone whose people these are part of'),
  note: note.default(''),
})
export const zone = zoneInput.extend({
  id,
  areaM2: z.number(),
  seasons: seasonWeeks,
  groupSize: z.number().nullable(),
  ...stamped,
})
export type ZoneInput = z.infer<typeof zoneInput>
export type Zone = z.infer<typeof zone>

export const crewInput = z.object({
  name: text(60),
  letter: z.string().regex(/^[A-Z]$/),
  level: z
    .union([z.literal(1), z.literal(2), z.literal(3)])
    .describe('highest level of visit this crew may make'),
  equipment: z.array(text(40)).max(20),
  memberIds: z.array(z.string()).max(12),
  start: position,
  end: position,
  hours: z
    .array(z.object({ fromMinute: z.int().min(0).max(1440), toMinute: z.int().min(0).max(1440) }).nullable())
    .length(7)
    .describe('working hours by day of the week, Monday first, minutes after midnight; null: no work'),
  breakMinutes: z.int().min(0).max(240),
  daysOff: z.array(civilDate).max(400),
})
export const crew = crewInput.extend({ id, ...stamped })
export type Crew = z.infer<typeof crew>
