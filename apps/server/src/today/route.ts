import { createRoute, z } from '@hono/zod-openapi'
import type { Deps } from '../http/context.ts'
import { allow, answers, body, idParam, nothing, subject } from '../http/subject.ts'
import { endStop } from '../plans/service.ts'
import { dayOf, dayView } from './service.ts'

/** The crew's day: the issued sheet of the person's own crew, or of the crew an officer names. */
export const today = (deps: Deps) => {
  return subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/today',
        tags: ['today'],
        summary: "A crew's issued day",
        request: { query: z.object({ date: z.iso.date().optional(), crew: z.uuid().optional() }) },
        responses: answers(dayView),
      }),
      async (c) => c.json(await dayOf(deps, c.get('person'), c.req.valid('query')), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/stops/{id}/end',
        tags: ['today'],
        summary: 'A stop is done, or skipped with a reason',
        request: {
          ...idParam,
          ...body(
            z.object({
              visitId: z.uuid().nullable(),
              skippedBecause: z.string().trim().min(1).max(400).nullable(),
            }),
          ),
        },
        responses: nothing,
      }),
      async (c) => {
        await endStop(deps, allow(c, 'inspector', 'officer'), c.req.valid('param').id, c.req.valid('json'))
        return c.body(null, 204)
      },
    )
}
