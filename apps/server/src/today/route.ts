import { createRoute, z } from '@hono/zod-openapi'
import { today as civilToday, crew } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { allow, answers, body, idParam, nothing, subject } from '../http/subject.ts'
import { crewsById, nextSheetDate, sheetsOfDay, stopsOf } from '../plans/queries.ts'
import { endStop, sheetView, sheetViews } from '../plans/service.ts'

const crewName = crew.pick({ id: true, name: true, letter: true, level: true, start: true, end: true })

/** The crew's day: the issued sheet of the person's own crew, or of the crew an officer names. */
export const today = (deps: Deps) => {
  const { db } = deps.database
  return subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/today',
        tags: ['today'],
        summary: "A crew's issued day",
        request: { query: z.object({ date: z.iso.date().optional(), crew: z.uuid().optional() }) },
        responses: answers(
          z.object({
            date: z.string(),
            crew: crewName.nullable(),
            daySheet: sheetView.nullable(),
            nextDate: z.string().nullable(),
          }),
        ),
      }),
      async (c) => {
        const person = c.get('person')
        const { organisation, personId, role } = person
        const { date = civilToday(organisation.timeZone, deps.now()), crew: named } = c.req.valid('query')
        if (named && role === 'client') refuse('forbidden')
        const all = await crewsById(db, organisation.id, named ? [named] : null)
        const mine = named ? all : all.filter((one) => one.memberIds.includes(personId))
        const sheets = await sheetsOfDay(
          db,
          organisation.id,
          mine.map((one) => one.id),
          date,
        )
        const views = await sheetViews(
          deps,
          person,
          sheets,
          await stopsOf(
            db,
            organisation.id,
            sheets.map((s) => s.id),
          ),
        )
        const daySheet = views[0] ?? null
        const shown = mine.find((one) => one.id === daySheet?.crewId) ?? mine[0] ?? null
        return c.json(
          {
            date,
            crew: shown,
            daySheet,
            nextDate: daySheet
              ? null
              : await nextSheetDate(
                  db,
                  organisation.id,
                  mine.map((one) => one.id),
                  date,
                ),
          },
          200,
        )
      },
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
