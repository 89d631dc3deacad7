import { z } from 'zod'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'

/** Least and most of every figure, in the shape of the policy itself. */
export type LimitsOf<T> = T extends number
  ? readonly [least: number, most: number]
  : { readonly [K in keyof T]: LimitsOf<T[K]> }

const share = [0, 1] as const
const concentration = [0, 200] as const

/** What an organisation may set, in the units of `ExposurePolicy`. A figure outside is a slip of the pen, or no such wood or ground. */
export const exposurePolicyLimits: LimitsOf<ExposurePolicy> = {
  bodyHalfWidthM: [0, 1],
  crownBaseShare: [0, 0.95],
  crownRadiusShare: [0, 1],
  slenderness: [10, 200],
  // Trees that give no other reason must have a direction left to fall in.
  directionWeights: {
    even: [0.01, 100],
    lean: [0, 100],
    crown: [0, 100],
    clearing: [0, 100],
    wind: [0, 100],
  },
  leanConcentration: { base: concentration, perDegree: [0, 20], most: concentration },
  crownConcentrationPerUnit: concentration,
  crownEvenBelow: share,
  clearingConcentration: concentration,
  windConcentration: concentration,
  knownConcentration: [1, 200],
  scatter: { beyond: [1, 3], halfAngleDeg: [1, 89], coverage: share, chance: share },
  shelter: {
    residual: share,
    least: share,
    carriesCm: { masonry: [0, 500], frame: [0, 500], light: [0, 500] },
    penetration: { 'whole-tree': share, stem: share, limb: share },
  },
  slideFrom: [0.1, 5],
  road: {
    reactionS: [0.5, 5],
    decelerationMps2: [1, 10],
    vehicleLengthM: [1, 30],
    queuePerKm: [20, 500],
  },
  limb: { lengthShare: [0.1, 3], diameterShare: [0.01, 1] },
}

type Tree = { readonly [key: string]: Tree | number | readonly [number, number] }

/** Each figure within its limits; one that is missing takes its default, so that a policy kept before a figure came to be is read. */
function schemaOf(limits: Tree, defaults: Tree, object: (shape: z.ZodRawShape) => z.ZodType): z.ZodType {
  const shape = Object.entries(limits).map(([key, limit]): [string, z.ZodType] => {
    if (!Array.isArray(limit))
      return [key, schemaOf(limit as Tree, defaults[key] as Tree, object).prefault({} as never)]
    const [least, most] = limit as [number, number]
    return [
      key,
      z
        .number()
        .min(least)
        .max(most)
        .default(defaults[key] as number),
    ]
  })
  return object(Object.fromEntries(shape))
}

const inOrder = (schema: z.ZodType) =>
  (schema as z.ZodType<ExposurePolicy>).superRefine(({ shelter, leanConcentration }, ctx) => {
    const { masonry, frame, light } = shelter.carriesCm
    const wrong = (path: string[], message: string) => ctx.addIssue({ code: 'custom', path, message })
    if (!(masonry >= frame && frame >= light))
      wrong(
        ['shelter', 'carriesCm'],
        'Masonry carries at least what a frame carries, and a frame at least what a light roof carries.',
      )
    if (shelter.least > shelter.residual)
      wrong(
        ['shelter', 'least'],
        'A shelter that holds the whole length leaves no more than one the stem hangs over.',
      )
    if (leanConcentration.base > leanConcentration.most)
      wrong(['leanConcentration', 'base'], 'It begins at most where it ends.')
  })

const described = (object: (shape: z.ZodRawShape) => z.ZodType) =>
  inOrder(schemaOf(exposurePolicyLimits as unknown as Tree, defaultExposurePolicy as unknown as Tree, object))

/** A policy as a person gives it: within the limits, missing figures by default, refused where it names a figure there is not. */
export const exposurePolicySchema: z.ZodType<ExposurePolicy> = described((shape) => z.strictObject(shape))
const stored = described((shape) => z.object(shape))

/** A stored policy; a figure that came to be later takes its default, one that is no more drops out. Throws where it is out of its limits. */
export const readExposurePolicy = (content: unknown): ExposurePolicy => stored.parse(content)
