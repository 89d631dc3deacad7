import { z } from 'zod'
import { coreManners, woodConditions } from '../words.ts'
import { bearingDeg, civilDate, id, instant, note, text } from './common.ts'

/** Longest reading and widest stem taken; beyond this a figure is a slip of the pen (common knowledge, no source). */
export const probeLimits = { depthCm: 600, radiusCm: 600, traceCharacters: 3_000_000 } as const

const depthCm = z.number().min(0).max(probeLimits.depthCm)
const optional = <T extends z.ZodType>(schema: T) => schema.nullable().default(null)

/**
 * Wood of one condition along a reading: cm from the outside of the bark, along the instrument. Segments run from the bark inwards and
 * leave no room to guess: what no segment covers is unknown.
 */
export const woodSegment = z.object({
  fromCm: depthCm,
  toCm: depthCm,
  condition: z.enum(woodConditions),
})
export type WoodSegment = z.infer<typeof woodSegment>

/** Segments in order from the bark inwards; each ends after it begins and none covers another. Codes: `segment-backwards`, `segments-overlap`. */
export const woodSegments = z
  .array(woodSegment)
  .max(60)
  .superRefine((segments, context) => {
    segments.forEach((segment, i) => {
      if (segment.toCm <= segment.fromCm)
        context.addIssue({
          code: 'custom',
          path: [i, 'toCm'],
          params: { code: 'segment-backwards', value: segment.toCm },
          message: `Segment ${i + 1} ends at ${segment.toCm} cm, before it begins at ${segment.fromCm} cm.`,
        })
      const before = segments[i - 1]
      if (before && segment.fromCm < before.toCm - 1e-9)
        context.addIssue({
          code: 'custom',
          path: [i, 'fromCm'],
          params: { code: 'segments-overlap', value: segment.fromCm },
          message: `Segment ${i + 1} begins at ${segment.fromCm} cm, within segment ${i}, which ends at ${before.toCm} cm.`,
        })
    })
  })

const barkCm = z.number().min(0).max(30).describe('thickness of the bark at the entry point')

/** A core bored out with an increment borer. */
const coreReading = z
  .object({
    borerLengthCm: z.number().gt(0).max(150).describe('length of wood the borer can take'),
    reachedCm: depthCm.describe('depth the borer went, from the outside of the bark'),
    barkCm,
    segments: woodSegments,
    ringsCounted: optional(z.int().min(0).max(5000)),
    innermostRingsMm: z
      .array(z.number().gt(0).max(100))
      .max(50)
      .default([])
      .describe('widths of the innermost rings read, innermost first'),
    innermost10mmRings: optional(z.number().min(0).max(200)).describe(
      'rings within the innermost 10 mm of the core',
    ),
    outerTenRingsMm: optional(z.number().gt(0).max(1000)).describe(
      'width of the last ten rings, under the bark',
    ),
    pith: optional(
      z.discriminatedUnion('reached', [
        z.object({ reached: z.literal(true), atCm: depthCm }),
        z
          .object({
            reached: z.literal(false),
            chordMm: z.number().gt(0).max(100).describe('chord of the innermost ring’s arc'),
            arcHeightMm: z.number().gt(0).max(50).describe('height of the arc over its chord'),
          })
          .refine((arc) => arc.arcHeightMm <= arc.chordMm / 2 + 1e-9, {
            path: ['arcHeightMm'],
            params: { code: 'pith-arc' },
            message: 'An arc of half a circle or less is at most half as high as its chord is long.',
          }),
      ]),
    ),
    manner: optional(z.enum(coreManners)),
    smell: z.string().trim().max(160).default(''),
  })
  .superRefine((core, context) => {
    const deepest = Math.max(core.barkCm, ...core.segments.map((segment) => segment.toCm))
    if (core.reachedCm > core.borerLengthCm + 1e-9)
      context.addIssue({
        code: 'custom',
        path: ['reachedCm'],
        params: { code: 'reading-past-borer', value: core.reachedCm },
        message: `A borer of ${core.borerLengthCm} cm cannot reach ${core.reachedCm} cm.`,
      })
    if (deepest > core.reachedCm + 1e-9)
      context.addIssue({
        code: 'custom',
        path: ['segments'],
        params: { code: 'reading-past-borer', value: deepest },
        message: `A segment ends at ${deepest} cm; the borer went to ${core.reachedCm} cm.`,
      })
  })

/** A drill's resistance against depth. The text as it came from the instrument is kept and never edited. */
const traceReading = z.object({
  raw: z.string().min(1).max(probeLimits.traceCharacters),
  depthUnit: z.enum(['mm', 'cm', 'in']),
  depthColumn: z.int().min(0).max(50),
  resistanceColumn: z.int().min(0).max(50),
  resistanceUnit: text(40).describe('as the instrument states it, for example % of full scale'),
  barkCm: optional(barkCm),
  proposed: z
    .object({ method: text(40), barkCm: barkCm.nullable(), segments: woodSegments })
    .describe('what the program proposed when the trace was entered'),
})

/** One mallet round: which arcs sounded dull at this height; the rest of what was struck sounded clear. */
const soundingReading = z.object({
  rounds: z
    .array(
      z.object({
        heightM: z.number().min(-2).max(130),
        struck: z.enum(['all-round', 'part']),
        dullArcs: z
          .array(z.object({ fromBearingDeg: bearingDeg, toBearingDeg: bearingDeg }))
          .max(20)
          .describe('clockwise from one bearing to the other'),
      }),
    )
    .min(1)
    .max(40),
})

/** A core bent until it broke, piece by piece. */
const fractureReading = z.object({
  ofProbeId: optional(id).describe('the core it was made on'),
  coreDiameterMm: z.number().gt(0).max(20),
  leverMm: z.number().gt(0).max(200).describe('from the grip to where the load acts'),
  breaks: z
    .array(
      z.object({
        atCm: depthCm.describe('from the outside of the bark'),
        angleDeg: z.number().min(0).max(90).describe('bend at which it broke'),
        loadN: z.number().min(0).max(2000).describe('load at which it broke'),
      }),
    )
    .min(1)
    .max(60),
})

const laboratoryReading = z.object({
  laboratory: text(160),
  question: z.string().trim().max(400).default(''),
  result: text(4000),
  reportedOn: optional(civilDate),
  manner: optional(z.enum(['brittle', 'fibrous'])).describe('how the wood destroyer leaves the wood'),
})

/** A hole one can look into. Edges clockwise; depth from the outside of the stem to where the hole ends or meets the hollow. */
const openingReading = z.object({
  fromBearingDeg: bearingDeg,
  toBearingDeg: bearingDeg,
  depthCm: optional(depthCm),
  edgeWallsCm: optional(
    z.object({ from: z.number().min(0).max(300), to: z.number().min(0).max(300) }),
  ).describe('sound wall at each edge, without bark'),
  fromHeightM: z.number().min(-2).max(130),
  toHeightM: z.number().min(-2).max(130),
})

/** The shell as it showed when the stem was cut. */
const cutReading = z.object({
  walls: z
    .array(z.object({ bearingDeg, wallCm: z.number().min(0).max(probeLimits.radiusCm) }))
    .min(1)
    .max(72)
    .describe('sound wall without bark, towards the middle'),
})

const radiusCm = z.number().gt(0).max(probeLimits.radiusCm)
/** The stem's outline at this height, outside of the bark. */
const outlineReading = z.discriminatedUnion('by', [
  z.object({ by: z.literal('girth'), girthCm: z.number().gt(0).max(4000), barkCm: optional(barkCm) }),
  z.object({
    by: z.literal('radii'),
    radii: z
      .array(z.object({ bearingDeg, radiusCm }))
      .min(4)
      .max(72)
      .describe('from one middle, callipers or two tapes; distinct bearings'),
    barkCm: optional(barkCm),
  }),
])

const common = {
  id,
  visitId: id,
  label: z.string().trim().max(12).describe('short name on drawings, for example C1'),
  heightM: z.number().min(-2).max(130),
  instrument: z.string().trim().max(160).describe('what was used, with its serial number where it has one'),
  instrumentCondition: z.string().trim().max(160).default('').describe('sharpness, calibration'),
  operator: z.string().trim().max(160).default(''),
  disinfected: optional(z.boolean()).describe('whether the tool was disinfected before; null where not said'),
  note,
}
/** Where an instrument enters and where it points. */
const entry = {
  entryBearingDeg: bearingDeg,
  directionDeg: bearingDeg.describe(
    'where the instrument points, as a bearing; straight in is the entry bearing + 180',
  ),
  tiltDeg: z.number().min(-60).max(60).default(0).describe('downwards from level'),
}
const wound = { reason: text(400).describe('why the tree was wounded') }
const noWound = { reason: z.string().trim().max(400).default('') }

/**
 * A reading into wood, or a measurement of the stem at one height. The reading is kept as entered and never edited; a trace's borders are
 * accepted in entries beside it. Bearings are degrees clockwise from true north, seen from the middle of the stem.
 */
export const probeInput = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('core'), ...common, ...entry, ...wound, reading: coreReading }),
  z.object({ kind: z.literal('drill-trace'), ...common, ...entry, ...wound, reading: traceReading }),
  z.object({ kind: z.literal('sounding'), ...common, ...noWound, reading: soundingReading }),
  z.object({ kind: z.literal('fracture-test'), ...common, ...entry, ...noWound, reading: fractureReading }),
  z.object({ kind: z.literal('laboratory'), ...common, ...noWound, reading: laboratoryReading }),
  z.object({ kind: z.literal('opening'), ...common, ...noWound, reading: openingReading }),
  z.object({ kind: z.literal('cut'), ...common, ...noWound, reading: cutReading }),
  z.object({ kind: z.literal('outline'), ...common, ...noWound, reading: outlineReading }),
])
export type ProbeInput = z.infer<typeof probeInput>

/** Borders of a trace that a person stands by: the program's, taken as they were, or moved. */
export const bordersInput = z.object({
  id,
  barkCm,
  segments: woodSegments,
  moved: z.boolean().describe('whether they differ from what was proposed'),
  note: z.string().trim().max(400).default(''),
})
export type BordersInput = z.infer<typeof bordersInput>
export const borders = bordersInput.extend({ personId: z.string(), personName: z.string(), at: instant })
export type Borders = z.infer<typeof borders>

/** What the office adds to a reading: whose visit it was part of, and every set of borders anybody accepted, the latest last. */
const kept = {
  treeId: id,
  on: civilDate.describe('day of its visit'),
  personName: z.string(),
  borders: z.array(borders),
}
type Kept = z.infer<z.ZodObject<typeof kept>>
export const probe = z.intersection(probeInput, z.object(kept))
export type Probe = ProbeInput & Kept
export type ProbeOf<K extends ProbeInput['kind']> = Extract<Probe, { kind: K }>
