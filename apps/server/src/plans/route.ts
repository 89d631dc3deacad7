import { createRoute, z } from '@hono/zod-openapi'
import { addDays } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { allow, answers, body, idParam, subject } from '../http/subject.ts'
import { treeLine } from '../trees/line.ts'
import { plans as allPlans } from './queries.ts'
import { beginPlan, planView, publishPlan, savedShare, sheetView } from './service.ts'

const DEFAULT_ITERATIONS = 300_000

const asked = z.object({
  from: z.iso.date(),
  days: z.int().min(1).max(120),
  dueUntil: z.iso
    .date()
    .nullable()
    .default(null)
    .describe('trees due by then are taken; two weeks past the last day where it is null'),
  crewIds: z.array(z.uuid()).min(1).nullable().default(null),
  siteId: z.uuid().nullable().default(null),
  seed: z
    .int()
    .min(0)
    .max(2 ** 31)
    .default(1),
  iterations: z.int().min(0).max(20_000_000).default(DEFAULT_ITERATIONS),
})
const planRow = z
  .object({
    id: z.uuid(),
    number: z.int(),
    state: z.enum(['making', 'draft', 'published']),
    asked: z.any(),
    cost: z.any().nullable(),
    peerCost: z.any().nullable(),
    savedShare: z.number().nullable(),
    methodVersion: z.string().nullable(),
    madeBy: z.string(),
    madeAt: z.string(),
  })
  .openapi('Plan')

export const plans = (deps: Deps) => {
  const { db } = deps.database
  return subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/plans',
        tags: ['rounds'],
        summary: 'Plans, the newest first',
        responses: answers(z.object({ plans: z.array(planRow) })),
      }),
      async (c) => {
        const rows = await allPlans(db, c.get('person').organisation.id)
        return c.json(
          {
            plans: rows.map(({ organisationId: _, ...row }) => ({
              ...row,
              savedShare: savedShare(row.cost, row.peerCost),
            })),
          },
          200,
        )
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/plans',
        tags: ['rounds'],
        summary: 'Make a plan',
        request: body(asked),
        responses: answers(z.object({ planId: z.uuid(), number: z.int(), jobId: z.uuid() })),
      }),
      async (c) => {
        const person = allow(c, 'officer', 'manager')
        const given = c.req.valid('json')
        // Two weeks past the horizon, and a calendar's slack for days without work.
        const dueUntil = given.dueUntil ?? addDays(given.from, Math.ceil(given.days * 1.5) + 14)
        return c.json(await beginPlan(deps, person, { ...given, dueUntil }), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/plans/{id}',
        tags: ['rounds'],
        summary: 'A plan: its days, its stops, and what it left over',
        request: idParam,
        responses: answers(
          z.object({
            plan: planRow,
            daySheets: z.array(sheetView),
            unplaced: z.array(
              z.object({
                tree: treeLine,
                code: z.string(),
                message: z.string(),
                addedCost: z.number().nullable(),
              }),
            ),
          }),
        ),
      }),
      async (c) => c.json(await planView(deps, c.get('person'), c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/plans/{id}/publish',
        tags: ['rounds'],
        summary: 'Send days to the crews',
        request: {
          ...idParam,
          ...body(z.object({ dates: z.array(z.iso.date()).min(1).nullable().default(null) })),
        },
        responses: answers(z.object({ published: z.int() })),
      }),
      async (c) => {
        const person = allow(c, 'officer', 'manager')
        const { id } = c.req.valid('param')
        const published = await publishPlan(deps, person, id, c.req.valid('json').dates)
        return c.json({ published }, 200)
      },
    )
}
