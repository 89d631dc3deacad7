import { createRoute, z } from '@hono/zod-openapi'
import { decisionAnswers, work, workInput, workStates } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { allow, answers, body, idParam, subject } from '../http/subject.ts'
import { treeLine, withLateness } from '../trees/line.ts'
import { treeLines } from '../trees/queries.ts'
import { allWorks } from './queries.ts'
import { decide, proposeWork, setWorkState } from './service.ts'

const withTree = z.object({ work, tree: treeLine })

export const works = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/works',
        tags: ['works'],
        summary: 'All works, by their due date',
        responses: answers(z.object({ works: z.array(withTree) })),
      }),
      async (c) => {
        const { organisation } = c.get('person')
        const all = await allWorks(deps.database.db, organisation.id)
        const lines = await treeLines(deps.database.db, organisation.id, [
          ...new Set(all.map((w) => w.treeId)),
        ])
        const late = withLateness(organisation, deps.now())
        return c.json({ works: all.map((w) => ({ work: w, tree: late(lines.get(w.treeId)!) })) }, 200)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/works',
        tags: ['works'],
        summary: 'Propose a work',
        request: body(workInput),
        responses: answers(work),
      }),
      async (c) =>
        c.json(await proposeWork(deps, allow(c, 'officer', 'inspector'), c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/works/{id}',
        tags: ['works'],
        summary: 'Say how far a work is',
        request: {
          ...idParam,
          ...body(
            z.object({
              state: z.enum(workStates),
              doneOn: z.iso.date().nullable(),
              doneBy: z.string().max(160).nullable(),
            }),
          ),
        },
        responses: answers(work),
      }),
      async (c) =>
        c.json(
          await setWorkState(
            deps,
            allow(c, 'officer', 'manager', 'inspector'),
            c.req.valid('param').id,
            c.req.valid('json'),
          ),
          200,
        ),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/works/{id}/decision',
        tags: ['works'],
        summary: "The owner's answer to a recommendation",
        request: {
          ...idParam,
          ...body(
            z.object({
              answer: z.enum(decisionAnswers),
              on: z.iso.date(),
              reason: z.string().max(4000),
              by: z.string().max(160).optional(),
            }),
          ),
        },
        responses: answers(work),
      }),
      async (c) => {
        const person = allow(c, 'manager', 'officer', 'client')
        const { by, ...answer } = c.req.valid('json')
        return c.json(
          await decide(deps, person, c.req.valid('param').id, { ...answer, by: by ?? person.name }),
          200,
        )
      },
    )
