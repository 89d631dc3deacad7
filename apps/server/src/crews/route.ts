import { createRoute, z } from '@hono/zod-openapi'
import { crew, crewInput, member } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { answers, body, idParam, nothing, only, subject } from '../http/subject.ts'
import { addCrew, changeCrew, listCrews, listPeople, removeCrew } from './service.ts'

const tags = ['crews']
const middleware = only('officer', 'manager')

export const crews = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/people',
        tags,
        summary: 'People of the organisation',
        responses: answers(z.object({ people: z.array(member) })),
      }),
      async (c) => c.json({ people: await listPeople(deps, c.get('person')) }, 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/crews',
        tags,
        summary: 'Crews and their working hours',
        responses: answers(z.object({ crews: z.array(crew) })),
      }),
      async (c) => c.json({ crews: await listCrews(deps, c.get('person')) }, 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/crews',
        tags,
        summary: 'Add a crew',
        middleware,
        request: body(crewInput),
        responses: answers(crew),
      }),
      async (c) => c.json(await addCrew(deps, c.get('person'), c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/crews/{id}',
        tags,
        summary: 'Change a crew',
        middleware,
        request: { ...idParam, ...body(crewInput.extend({ version: z.int().min(1) })) },
        responses: answers(crew),
      }),
      async (c) =>
        c.json(await changeCrew(deps, c.get('person'), c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/crews/{id}',
        tags,
        summary: 'Remove a crew that never had a day sheet',
        middleware,
        request: idParam,
        responses: nothing,
      }),
      async (c) => {
        await removeCrew(deps, c.get('person'), c.req.valid('param').id)
        return c.body(null, 204)
      },
    )
