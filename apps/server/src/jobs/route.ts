import { createRoute, z } from '@hono/zod-openapi'
import type { Deps } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { answers, idParam, nothing, only, subject } from '../http/subject.ts'
import { deletePlan } from '../plans/queries.ts'

const job = z
  .object({
    id: z.uuid(),
    kind: z.string(),
    subjectId: z.uuid().nullable(),
    state: z.enum(['waiting', 'working', 'done', 'cancelled', 'failed']),
    done: z.int(),
    total: z.int(),
    message: z.string(),
    startedAt: z.string(),
    endedAt: z.string().nullable(),
  })
  .openapi('Job')

export const jobs = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/jobs',
        tags: ['jobs'],
        summary: 'Jobs that wait or work',
        responses: answers(z.object({ jobs: z.array(job) })),
      }),
      async (c) => c.json({ jobs: await deps.jobs.open(c.get('person').organisation.id) }, 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/jobs/{id}',
        tags: ['jobs'],
        summary: 'How far a job is',
        request: idParam,
        responses: answers(job),
      }),
      async (c) => {
        const found = await deps.jobs.get(c.get('person').organisation.id, c.req.valid('param').id)
        return c.json(found ?? refuse('unknown', 'id', 'There is no such job.'), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/jobs/{id}/cancel',
        tags: ['jobs'],
        summary: 'Stop a job',
        request: idParam,
        middleware: [only('officer', 'manager')] as const,
        responses: nothing,
      }),
      async (c) => {
        const { organisation } = c.get('person')
        const { id } = c.req.valid('param')
        const job =
          (await deps.jobs.get(organisation.id, id)) ?? refuse('unknown', 'id', 'There is no such job.')
        const neverBegun = await deps.jobs.cancel(organisation.id, id)
        // A plan whose work never began would be in the making for ever.
        if (neverBegun && job.kind === 'plan' && job.subjectId)
          await deletePlan(deps.database.db, organisation.id, job.subjectId)
        return c.body(null, 204)
      },
    )
