import { z } from 'zod'
import { protections, treeStatuses } from '../words.ts'
import { bearingDeg, civilDate, id, note, polygon, position, stamped, text } from './common.ts'

/** Limits beyond which a figure is taken for a slip of the pen: taller or thicker than any tree measured (common knowledge, no source). */
export const treeLimits = {
  heightM: 130,
  stemDiameterCm: 1200,
  crownRadiusM: 60,
  leanDeg: 80,
  slopeDeg: 75,
} as const

const m = (max: number) => z.number().gt(0).max(max)

export const stem = z.object({
  diameterCm: m(treeLimits.stemDiameterCm),
  measuredAtM: z.number().min(0).max(10),
})

export const treeInput = z.object({
  siteId: id.nullable(),
  tag: text(60).describe('what is written on the tree or in the list; unique within the organisation'),
  species: text(160).describe('botanical name where it is known, else as written'),
  commonName: z.string().trim().max(160).nullable(),
  position,
  positionAccuracyM: z.number().min(0).max(1000).nullable(),
  stems: z.array(stem).max(30).describe('one or more; combined as √Σd²; empty while unknown'),
  group: z.object({ count: z.int().min(2).max(100_000), outline: polygon.nullable() }).nullable(),
  heightM: m(treeLimits.heightM).nullable(),
  crownBaseHeightM: z.number().min(0).max(treeLimits.heightM).nullable(),
  crownRadiiM: z
    .object({ n: z.number().min(0), e: z.number().min(0), s: z.number().min(0), w: z.number().min(0) })
    .refine(
      (r) => Math.max(r.n, r.e, r.s, r.w) <= treeLimits.crownRadiusM,
      `at most ${treeLimits.crownRadiusM} m`,
    )
    .nullable(),
  lean: z.object({ bearingDeg, angleDeg: z.number().min(0).max(treeLimits.leanDeg) }).nullable(),
  clearingBearingDeg: bearingDeg.nullable().describe('towards the open, for a tree that stands on an edge'),
  slope: z
    .object({ downhillBearingDeg: bearingDeg, angleDeg: z.number().min(0).max(treeLimits.slopeDeg) })
    .nullable()
    .optional()
    .describe('of the ground about it, degrees from level; left out of a change: it stays as it is'),
  deadOrBrittle: z.boolean().describe('throws pieces beyond its reach when it falls; never lowers a figure'),
  owner: z.string().trim().max(160).nullable(),
  protections: z.array(z.enum(protections)),
  powerLinesNear: z.boolean(),
  status: z.enum(treeStatuses),
  goneOn: civilDate.nullable(),
  plantedYear: z.int().min(1000).max(2200).nullable(),
  note: note.default(''),
})
export const tree = treeInput.extend({
  id,
  slope: treeInput.shape.slope.unwrap(),
  sourceKey: z.string().nullable().describe('stable identifier in the list it was brought in from'),
  ...stamped,
})
export type TreeInput = z.infer<typeof treeInput>
export type Tree = z.infer<typeof tree>
export type Stem = z.infer<typeof stem>

/** A standing tree of which nothing is known but what is said here: null, false or none for the rest. */
export const blankTree = (
  said: Pick<TreeInput, 'tag' | 'species' | 'position'> & Partial<TreeInput>,
): Required<TreeInput> => ({
  siteId: null,
  commonName: null,
  positionAccuracyM: null,
  stems: [],
  group: null,
  heightM: null,
  crownBaseHeightM: null,
  crownRadiiM: null,
  lean: null,
  clearingBearingDeg: null,
  slope: null,
  deadOrBrittle: false,
  owner: null,
  protections: [],
  powerLinesNear: false,
  status: 'standing',
  goneOn: null,
  plantedYear: null,
  note: '',
  ...said,
})
