import { createRoute, z } from '@hono/zod-openapi'
import { due, rating, ratingInput, urgentNoteInput, visit, visitInput, workInput } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { allow, answers, body, idParam, subject } from '../http/subject.ts'
import { visitById } from './queries.ts'
import { closeVisit, keepDraft } from './service.ts'

const closing = z
  .object({
    visit: visitInput,
    rating: ratingInput.nullable(),
    works: z.array(workInput).max(40),
    urgentNote: urgentNoteInput.nullable(),
  })
  .openapi('Closing')
const closed = z
  .object({ visit, rating: rating.nullable(), due: due.nullable(), before: due.nullable() })
  .openapi('Closed')

export const visits = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/visits/{id}',
        tags: ['visits'],
        summary: 'One visit',
        request: idParam,
        responses: answers(visit),
      }),
      async (c) => {
        const found = await visitById(
          deps.database.db,
          c.get('person').organisation.id,
          c.req.valid('param').id,
        )
        return c.json(found ?? refuse('unknown', 'id', 'There is no such visit.'), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/visits/{id}',
        tags: ['visits'],
        summary: 'Keep a visit as a draft',
        request: { ...idParam, ...body(visitInput) },
        responses: answers(visit),
      }),
      async (c) => {
        const person = allow(c, 'inspector', 'officer')
        const input = c.req.valid('json')
        if (input.id !== c.req.valid('param').id)
          refuse('malformed', 'id', 'The address and the visit name different identifiers.')
        return c.json(await keepDraft(deps, person, input), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/visits/{id}/close',
        tags: ['visits'],
        summary: 'Close a visit with its rating, works and urgent note',
        request: { ...idParam, ...body(closing) },
        responses: answers(closed),
      }),
      async (c) => {
        const person = allow(c, 'inspector', 'officer')
        const input = c.req.valid('json')
        if (input.visit.id !== c.req.valid('param').id)
          refuse('malformed', 'visit.id', 'The address and the visit name different identifiers.')
        return c.json(await closeVisit(deps, person, input), 200)
      },
    )
