import { createRoute, z } from '@hono/zod-openapi'
import { addDays, mondayOf, today } from '@underbough/model'
import { serviceMinutes } from '@underbough/rounds'
import type { Deps } from '../http/context.ts'
import { allow, answers, body, subject } from '../http/subject.ts'
import { isOpen, narrowingQuery } from '../tiles/narrowing.ts'
import { passing } from '../tiles/queries.ts'
import { daysOf } from '../tiles/service.ts'
import { capacityMinutes, dueDays } from './queries.ts'
import { weeksOf } from './weeks.ts'

/** The strip is its own narrowing by date. */
const weeksNarrowing = narrowingQuery.omit({ dueFrom: true, dueUntil: true })
const count = z.object({ low: z.int(), moderate: z.int(), high: z.int(), extreme: z.int(), unrated: z.int() })
const strip = z
  .object({
    today: z.string(),
    thisWeek: z.string(),
    weeks: z.array(z.object({ week: z.string(), due: count, late: count })),
    capacity: z
      .array(z.object({ week: z.string(), visits: z.number() }))
      .describe('visits the crews can make in each week, at the mean minutes of those due'),
    rounds: z
      .array(z.object({ crewId: z.uuid(), letter: z.string(), from: z.string(), to: z.string() }))
      .describe('days already sent to the crews'),
  })
  .openapi('DueStrip')

export const due = (deps: Deps) => {
  const { db } = deps.database
  return subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/due/weeks',
        tags: ['due'],
        summary: 'Looks due by week and risk',
        request: {
          query: weeksNarrowing.extend({
            weeksBack: z.coerce.number().int().min(0).max(520).default(8),
            weeksAhead: z.coerce.number().int().min(1).max(520).default(52),
          }),
        },
        responses: answers(strip),
      }),
      async (c) => {
        const { organisation } = c.get('person')
        const { weeksBack, weeksAhead, ...narrowing } = c.req.valid('query')
        const day = today(organisation.timeZone, deps.now())
        const thisWeek = mondayOf(day)
        const first = addDays(thisWeek, -7 * weeksBack)
        const last = addDays(thisWeek, 7 * weeksAhead - 1)
        const { days, meanLevelMinutes, rounds } = await dueDays(
          db,
          organisation.id,
          isOpen(narrowing) ? null : passing(narrowing, await daysOf(deps, organisation)),
          last,
          day,
          serviceMinutes,
        )
        const capacity = await capacityMinutes(db, organisation.id)
        const weeks = weeksOf(days, day, first, last)
        return c.json(
          {
            today: day,
            thisWeek,
            weeks,
            capacity: weeks.map(({ week }) => ({
              week,
              visits: Math.floor(capacity(week) / meanLevelMinutes),
            })),
            rounds,
          },
          200,
        )
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/due/recompute',
        tags: ['due'],
        summary: 'Date every tree anew',
        request: body(z.object({})),
        responses: answers(z.object({ jobId: z.uuid() })),
      }),
      async (c) => {
        const person = allow(c, 'officer', 'manager')
        return c.json(
          { jobId: await deps.jobs.start(person.organisation.id, 'due', { treeIds: null }, person.personId) },
          200,
        )
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/exposure/recompute',
        tags: ['exposure'],
        summary: 'Work out anew who is under every tree',
        request: body(z.object({})),
        responses: answers(z.object({ jobId: z.uuid() })),
      }),
      async (c) => {
        const person = allow(c, 'officer', 'manager')
        return c.json(
          {
            jobId: await deps.jobs.start(
              person.organisation.id,
              'exposure',
              { treeIds: null },
              person.personId,
            ),
          },
          200,
        )
      },
    )
}
