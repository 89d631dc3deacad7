import { createRoute, z } from '@hono/zod-openapi'
import { position, zoneKinds } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { answers, subject } from '../http/subject.ts'
import { treeLine } from '../trees/line.ts'
import { listHotspots } from './service.ts'

const hotspot = z
  .object({
    zone: z.object({ id: z.uuid(), name: z.string(), kind: z.enum(zoneKinds), place: position }),
    people: z
      .object({ mean: z.number(), least: z.number(), most: z.number() })
      .describe(
        'people within the outline if the tree that bears most fails; least and most over the fall bearings assumed',
      ),
    sumModerate: z.number().describe('the mean numbers of all trees rated moderate or more, added'),
    trees: z.int().describe('standing trees whose fall may meet the zone'),
    treesModerate: z.int(),
    worst: z.array(treeLine).describe('highest risk first, then most people'),
    rank: z.int(),
  })
  .openapi('Hotspot')

export const hotspots = (deps: Deps) =>
  subject().openapi(
    createRoute({
      method: 'get',
      path: '/hotspots',
      tags: ['hotspots'],
      summary: 'Zones by what hangs over them',
      request: { query: z.object({ limit: z.coerce.number().int().min(1).max(500).default(50) }) },
      responses: answers(z.object({ zones: z.array(hotspot), computedAt: z.string().nullable() })),
    }),
    async (c) => c.json(await listHotspots(deps, c.get('person'), c.req.valid('query').limit), 200),
  )
