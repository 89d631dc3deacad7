import { createRoute, z } from '@hono/zod-openapi'
import { areaGeometry, position, zoneKinds } from '@underbough/model'
import { boundsQuery } from '../http/bounds.ts'
import type { Deps } from '../http/context.ts'
import { answers, nothing, subject } from '../http/subject.ts'
import { treeLine } from '../trees/line.ts'
import { hotspotsAsCsv, hotspotsAsGeoJson } from './export.ts'
import { bases } from './queries.ts'
import { listHotspots, outlinesOf, spotTrees } from './service.ts'

const people = z
  .object({ mean: z.number(), least: z.number(), most: z.number() })
  .describe(
    'people within the outline if the tree that bears most fails; least and most over the fall bearings assumed',
  )
const figures = {
  people,
  sumModerate: z.number().describe('the mean numbers of all trees rated moderate or more, added'),
  trees: z.int().describe('standing trees whose fall may meet it'),
  treesModerate: z.int().describe('of them rated moderate or more'),
  treesHigh: z.int().describe('of them rated high or more'),
  treesExtreme: z.int(),
}
const hotspot = z
  .object({
    id: z.string().describe("the zone's identifier, or the cell's column and row"),
    zone: z.object({ id: z.uuid(), name: z.string(), kind: z.enum(zoneKinds) }).nullable(),
    cell: z
      .object({ x: z.int(), y: z.int(), ring: z.array(position) })
      .nullable()
      .describe('a square of the grid, about 110 m a side at 44° of latitude'),
    place: position,
    ...figures,
    before: z.object(figures).nullable().describe('how the last month ended'),
    change: z.enum(['new', 'up', 'down', 'same']).nullable().describe('null: no month before this one'),
    worst: z.array(treeLine.extend({ people })).describe('the trees responsible'),
    rank: z.int(),
  })
  .openapi('Hotspot')

const question = z.object({
  of: z.enum(['zones', 'cells']).default('zones'),
  basis: z
    .enum(bases)
    .default('one')
    .describe('the tree that bears most; all rated moderate or more, added; the ratings over it'),
  siteId: z.uuid().optional(),
  kinds: z
    .string()
    .optional()
    .transform((text, context) => {
      const parts = text ? text.split(',') : []
      for (const part of parts)
        if (!(zoneKinds as readonly string[]).includes(part))
          context.addIssue({ code: 'custom', message: `No kind of zone is called “${part}”.`, input: part })
      return parts as (typeof zoneKinds)[number][]
    })
    .describe('kinds of zone, parted by commas; cells hold all kinds'),
  bbox: boundsQuery.optional(),
})
const asked = (query: z.infer<typeof question>, limit: number, offset: number) => ({
  of: query.of,
  basis: query.basis,
  siteId: query.siteId ?? null,
  kinds: query.kinds,
  bbox: query.bbox ?? null,
  limit,
  offset,
})
const FILE_ROWS = 5000
const tags = ['hotspots']

export const hotspots = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/hotspots',
        tags,
        summary: 'Zones, or cells of a grid, by what hangs over them',
        request: {
          query: question.extend({
            limit: z.coerce.number().int().min(1).max(500).default(50),
            offset: z.coerce.number().int().min(0).max(1_000_000).default(0),
          }),
        },
        responses: answers(
          z.object({
            spots: z.array(hotspot),
            total: z.int(),
            gone: z.array(
              z.object({
                id: z.string(),
                name: z.string().nullable(),
                kind: z.enum(zoneKinds).nullable(),
                before: z.object(figures),
              }),
            ),
            comparable: z.boolean().describe('false: there is no month before this one'),
            behind: z.boolean().describe('many figures changed and are still being ranked'),
            computedAt: z.string().nullable(),
            methodVersion: z.string().nullable(),
          }),
        ),
      }),
      async (c) => {
        const query = c.req.valid('query')
        return c.json(await listHotspots(deps, c.get('person'), asked(query, query.limit, query.offset)), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/hotspots/trees',
        tags,
        summary: 'The trees responsible for one spot',
        request: {
          query: z.object({
            spot: z.union([z.uuid(), z.string().regex(/^\d{1,6}\/\d{1,6}$/)]),
            basis: z.enum(bases).default('one'),
          }),
        },
        responses: answers(z.object({ trees: z.array(treeLine.extend({ people, pTouch: z.number() })) })),
      }),
      async (c) => {
        const { spot, basis } = c.req.valid('query')
        return c.json(await spotTrees(deps, c.get('person'), spot, basis), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/hotspots/outlines',
        tags,
        summary: 'Outlines of the zones named, for a drawing',
        request: {
          query: z.object({
            ids: z
              .string()
              .transform((text) => text.split(','))
              .pipe(z.array(z.uuid()).min(1).max(60)),
          }),
        },
        responses: answers(
          z.object({ outlines: z.array(z.object({ id: z.uuid(), geometry: areaGeometry })) }),
        ),
      }),
      async (c) => c.json(await outlinesOf(deps, c.get('person'), c.req.valid('query').ids), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/hotspots/file',
        tags,
        summary: `The list as a file: at most ${FILE_ROWS} rows`,
        request: { query: question.extend({ as: z.enum(['csv', 'geojson']) }) },
        responses: {
          200: {
            description: 'The file',
            content: { 'text/csv': { schema: z.string() }, 'application/geo+json': { schema: z.string() } },
          },
          default: nothing.default,
        },
      }),
      async (c) => {
        const query = c.req.valid('query')
        const csv = query.as === 'csv'
        const made = await (csv ? hotspotsAsCsv : hotspotsAsGeoJson)(
          deps,
          c.get('person'),
          asked(query, FILE_ROWS, 0),
        )
        return c.body(made.text, 200, {
          'content-type': csv ? 'text/csv; charset=utf-8; header=present' : 'application/geo+json',
          'content-disposition': `attachment; filename="${made.name}"`,
        }) as never
      },
    )
