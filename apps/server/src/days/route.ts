import { createRoute, z } from '@hono/zod-openapi'
import { today } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { answers, subject } from '../http/subject.ts'
import { treeAlong } from './along.ts'
import { packFile } from './pack.ts'
import { dayPack, daysAhead, treesOfDay } from './service.ts'

const pack = z
  .object({
    date: z.string(),
    tag: z.string().describe('changes when the day changes; the entity tag as well'),
    trees: z.int(),
    bytes: z.int(),
    files: z.array(packFile),
  })
  .openapi('DayPack')

/** Days to be taken along where there is no signal. */
export const days = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/days',
        tags: ['today'],
        summary: 'Issued days of the person’s own crew, from a date on, and what each takes to keep',
        request: {
          query: z.object({
            from: z.iso.date().optional(),
            days: z.coerce.number().int().min(1).max(14).default(7),
          }),
        },
        responses: answers(
          z.object({ days: z.array(z.object({ date: z.string(), trees: z.int(), bytes: z.int() })) }),
        ),
      }),
      async (c) => {
        const person = c.get('person')
        const { from = today(person.organisation.timeZone, deps.now()), days: count } = c.req.valid('query')
        return c.json({ days: await daysAhead(deps, person, from, count) }, 200)
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/days/{date}/pack',
        tags: ['today'],
        summary: 'Addresses of all that a phone needs for the person’s issued day',
        request: { params: z.object({ date: z.iso.date() }) },
        responses: {
          ...answers(pack),
          304: { description: 'The day is as it was when the pack with this tag was fetched' },
        },
      }),
      async (c) => {
        const made = await dayPack(deps, c.get('person'), c.req.valid('param').date)
        const headers = { etag: `"${made.tag}"`, 'cache-control': 'private, no-cache', vary: 'cookie' }
        if (c.req.header('if-none-match') === headers.etag) return c.body(null, 304, headers)
        return c.json(made, 200, headers)
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/days/{date}/trees',
        tags: ['today'],
        summary: 'Trees within 300 m of the way of the person’s issued day, to be found without signal',
        request: { params: z.object({ date: z.iso.date() }) },
        responses: answers(z.object({ trees: z.array(treeAlong) })),
      }),
      async (c) => c.json({ trees: await treesOfDay(deps, c.get('person'), c.req.valid('param').date) }, 200),
    )
