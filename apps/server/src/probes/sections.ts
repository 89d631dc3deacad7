import { z } from '@hono/zod-openapi'
import { type Probe, refusalCodes, type Tree } from '@underbough/model'
import { type SectionAt, sectionFrom, sectionsOf } from '@underbough/wood'

const cm = z.number()
const share = z.number().describe('0 to 1, of the same outline if sound')
const point = z.tuple([cm, cm]).readonly().describe('east and north of the stem’s middle, cm')

const reading = z.object({
  probeId: z.uuid(),
  label: z.string(),
  kind: z.enum(['instrument', 'cut']),
  entry: point,
  end: point,
  segments: z.array(
    z.object({
      condition: z.enum([
        'sound',
        'stained',
        'softened-brittle',
        'softened-fibrous',
        'void',
        'bark',
        'unread',
      ]),
      from: point,
      to: point,
      lengthCm: cm,
    }),
  ),
  bearingDeg: z.number(),
  wallCm: cm,
  radiusCm: cm,
  tOverR: z.number(),
  censored: z.boolean().describe('the reading stopped in firm wood: the wall is at least wallCm'),
  outerLossCm: cm,
  readCm: cm,
  unreadCm: cm,
})
const section = z.object({
  methodVersion: z.string(),
  heightM: z.number(),
  seed: z.number(),
  draws: z.number(),
  stepDeg: z.number(),
  outline: z.object({
    basis: z.enum(['radii', 'girth', 'stem-diameter']),
    outerCm: z.array(cm),
    woodCm: z.array(cm),
    meanWoodRadiusCm: cm,
  }),
  readings: z.array(reading),
  openings: z.array(
    z.object({
      probeId: z.uuid(),
      label: z.string(),
      fromBearingDeg: z.number(),
      toBearingDeg: z.number(),
      depthCm: cm.nullable(),
      edgeWallsCm: z.object({ from: cm, to: cm }).nullable(),
      widthDeg: z.number(),
      complete: z.boolean(),
    }),
  ),
  says: z.enum(['walls', 'range', 'figures']),
  limits: z.array(z.enum(['few-readings', 'gap', 'opening-incomplete'])),
  widestGapDeg: z.number(),
  wallCm: z.object({ median: z.array(cm).nullable(), cautious: z.array(cm) }).nullable(),
  share: z.object({ p05: share, p50: share.nullable(), p95: share }).nullable(),
  rose: z.array(z.object({ p05: share, p50: share, p95: share })).nullable(),
  weakestBearingDeg: z.number().nullable(),
  areaShare: share.nullable(),
  centroid: point.nullable(),
  thinnestTOverR: z.object({ value: z.number(), at: z.string() }).nullable(),
  bendingOnly: z.boolean(),
  notAssessed: z.array(z.string()),
  assumptions: z.array(z.string()),
  notes: z.array(z.object({ code: z.string(), path: z.string(), message: z.string() })),
})

/** What the readings of each height say together, or why they say nothing. */
export const sectionsAnswer = z.object({
  sections: z.array(
    z.object({
      heightM: z.number(),
      probeIds: z.array(z.uuid()),
      section: section.nullable(),
      refusals: z.array(
        z.object({
          code: z.enum(Object.keys(refusalCodes) as [string, ...string[]]),
          path: z.string(),
          value: z.unknown().optional(),
          limit: z.string().optional(),
          message: z.string(),
        }),
      ),
      notCounted: z.array(
        z.object({ probeId: z.uuid(), label: z.string(), why: z.enum(['borders-not-accepted']) }),
      ),
    }),
  ),
})

/** By height, or of the readings that somebody has chosen. */
export function sectionsFor(tree: Tree, probes: readonly Probe[], chosen: readonly string[] | null) {
  const found: SectionAt[] = chosen
    ? [
        {
          heightM: Math.min(...probes.map((probe) => probe.heightM)),
          probes: [...probes],
          ...sectionFrom(probes, tree),
        },
      ]
    : sectionsOf(probes, tree)
  return {
    sections: found.map(({ heightM, probes: used, outcome, left }) => ({
      heightM,
      probeIds: used.map((probe) => probe.id),
      section: outcome.ok ? outcome.value : null,
      refusals: outcome.ok ? [] : outcome.refusals,
      notCounted: left,
    })),
  }
}
