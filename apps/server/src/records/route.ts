import { createRoute, z } from '@hono/zod-openapi'
import { failureInput, treeEventInput, walkOverInput } from '@underbough/model'
import { eventKinds } from '@underbough/rating'
import type { Deps } from '../http/context.ts'
import { allow, answers, body, idParam, nothing, subject } from '../http/subject.ts'
import { keepEvent, keepFailure } from './entered.ts'
import { allFailures } from './queries.ts'
import { keepWalkOver } from './service.ts'

const eventInput = treeEventInput.omit({ treeId: true }).extend({ kind: z.enum(eventKinds) })

/** Walk-overs, failures and events: small records that stand as they were entered. */
export const records = (deps: Deps) => {
  const { db } = deps.database
  return subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/failures',
        tags: ['records'],
        summary: 'What broke or nearly did',
        responses: answers(z.object({ failures: z.array(failureInput) })),
      }),
      async (c) => c.json({ failures: await allFailures(db, c.get('person').organisation.id) }, 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/failures',
        tags: ['records'],
        summary: 'Record a failure or near miss',
        request: body(failureInput),
        responses: nothing,
      }),
      async (c) => {
        const person = allow(c, 'inspector', 'officer', 'manager')
        await keepFailure(deps, person, c.req.valid('json'))
        return c.body(null, 204)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/walk-overs',
        tags: ['records'],
        summary: 'All trees of a zone looked at in one go',
        request: body(walkOverInput),
        responses: nothing,
      }),
      async (c) => {
        const person = allow(c, 'inspector', 'officer')
        const input = c.req.valid('json')
        await deps.database.transaction((tx) => keepWalkOver(tx, person, input, deps.now()))
        return c.body(null, 204)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/trees/{id}/events',
        tags: ['records'],
        summary: 'Something that asks for an earlier look',
        request: { ...idParam, ...body(eventInput) },
        responses: nothing,
      }),
      async (c) => {
        const person = allow(c, 'inspector', 'officer', 'manager')
        const { id } = c.req.valid('param')
        const event = c.req.valid('json')
        await keepEvent(deps, person, { ...event, treeId: id })
        return c.body(null, 204)
      },
    )
}
