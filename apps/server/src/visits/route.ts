import { createRoute, z } from '@hono/zod-openapi'
import { closingInput, due, rating, riskWords, visit, visitInput } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { allow, answers, body, idParam, subject } from '../http/subject.ts'
import { treeLine, withLateness } from '../trees/line.ts'
import { treeLines } from '../trees/queries.ts'
import { latestVisits, visitById } from './queries.ts'
import { closeVisit, keepDraft } from './service.ts'

const closing = z.object(closingInput.shape).openapi('Closing')
const closed = z
  .object({ visit, rating: rating.nullable(), due: due.nullable(), before: due.nullable() })
  .openapi('Closed')
const head = z
  .object({
    id: z.uuid(),
    level: visit.shape.level,
    startedAt: z.string(),
    closedAt: z.string().nullable(),
    couldNotSee: z.string(),
    personName: z.string(),
    findings: z.int(),
    risk: z.enum(riskWords).nullable().describe('of the rating made on this visit'),
    tree: treeLine,
  })
  .openapi('VisitHead')
const many = z.object({ limit: z.coerce.number().int().min(1).max(200).default(50) })

export const visits = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/visits',
        tags: ['visits'],
        summary: 'The latest closed visits',
        request: { query: many },
        responses: answers(z.object({ visits: z.array(head) })),
      }),
      async (c) => {
        const { organisation } = c.get('person')
        const { db } = deps.database
        const found = await latestVisits(db, organisation.id, c.req.valid('query').limit)
        const lines = await treeLines(db, organisation.id, [...new Set(found.map((v) => v.treeId))])
        const late = withLateness(organisation, deps.now())
        const visits = found.map(({ treeId, ...rest }) => ({ ...rest, tree: late(lines.get(treeId)!) }))
        return c.json({ visits }, 200)
      },
    )
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
