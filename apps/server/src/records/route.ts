import { createRoute, z } from '@hono/zod-openapi'
import { failureInput, today, walkOverInput } from '@underbough/model'
import { eventKinds } from '@underbough/rating'
import { policyOf, recomputeDue } from '../due/service.ts'
import type { Deps } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { allow, answers, body, idParam, nothing, subject } from '../http/subject.ts'
import { treeLines } from '../trees/queries.ts'
import { lockTree } from '../visits/queries.ts'
import { zoneById } from '../zones/queries.ts'
import { allFailures, insertEvent, insertFailure, insertWalkOver } from './queries.ts'

const eventInput = z.object({
  id: z.uuid(),
  kind: z.enum(eventKinds),
  on: z.iso.date(),
  lookWithinDays: z.int().min(0).max(3650).nullable(),
  note: z.string().max(4000).default(''),
})

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
        const input = c.req.valid('json')
        if (!input.treeId && !input.place)
          refuse('required', 'place', 'Name the tree, or the place where no tree is on record.')
        if (input.on > today(person.organisation.timeZone, deps.now()))
          refuse('out-of-range', 'on', 'That day has not come yet.')
        const { treeId } = input
        if (treeId && !(await treeLines(db, person.organisation.id, [treeId])).has(treeId))
          refuse('unknown', 'treeId', 'There is no such tree.')
        await insertFailure(db, person.organisation.id, input)
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
        if (!(await zoneById(db, person.organisation.id, input.zoneId)))
          refuse('unknown', 'zoneId', 'There is no such zone.')
        await insertWalkOver(db, person.organisation.id, person.personId, input)
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
        await deps.database.transaction(async (tx) => {
          if (!(await lockTree(tx, person.organisation.id, id)))
            refuse('unknown', 'id', 'There is no such tree.')
          const policy = await policyOf(tx, person.organisation.id)
          await insertEvent(tx, person.organisation.id, id, {
            ...event,
            lookWithinDays: event.lookWithinDays ?? policy.events[event.kind].withinDays,
          })
          await recomputeDue(tx, person.organisation, [id])
        })
        return c.body(null, 204)
      },
    )
}
