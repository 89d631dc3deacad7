import { createRoute, z } from '@hono/zod-openapi'
import { borders, bordersInput, probe, probeInput } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { allow, answers, body, idParam, nothing, subject } from '../http/subject.ts'
import { upTo } from '../http/up-to.ts'
import { treeById, treeLines } from '../trees/queries.ts'
import { probesOfTree, rawTrace } from './queries.ts'
import { sectionsAnswer, sectionsFor } from './sections.ts'
import { acceptBorders, keepProbe } from './service.ts'

const tags = ['probes']
const MIB = 1024 * 1024

/** Room for the longest trace as JSON writes it: a tab or the end of a line takes two characters. */
const limit = upTo(8 * MIB, 'Enter one trace at a time.')

/** Readings into wood: kept as they were entered, with the borders that people accept beside them. */
export const probes = (deps: Deps) => {
  const { db } = deps.database
  return subject()
    .openapi(
      createRoute({
        method: 'post',
        path: '/probes',
        tags,
        summary: 'Keep a reading into wood',
        middleware: limit,
        request: body(probeInput),
        responses: nothing,
      }),
      async (c) => {
        await keepProbe(deps, allow(c, 'inspector', 'officer'), c.req.valid('json'))
        return c.body(null, 204)
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/trees/{id}/probes',
        tags,
        summary: 'All readings of a tree, those of the newest visit first',
        request: idParam,
        responses: answers(z.object({ probes: z.array(probe) })),
      }),
      async (c) => {
        const { organisation } = c.get('person')
        const { id } = c.req.valid('param')
        if (!(await treeLines(db, organisation.id, [id])).has(id))
          refuse('unknown', 'id', 'There is no such tree.')
        return c.json({ probes: await probesOfTree(db, organisation.id, id, organisation.timeZone) }, 200)
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/trees/{id}/sections',
        tags,
        summary: 'What the readings at each height say of the stem there, computed now',
        request: {
          ...idParam,
          query: z.object({
            probes: z
              .string()
              .regex(/^[0-9a-f-]{36}(,[0-9a-f-]{36})*$/)
              .optional()
              .describe(
                'identifiers of readings to make one section of, with commas; all, by height, unless given',
              ),
          }),
        },
        responses: answers(sectionsAnswer),
      }),
      async (c) => {
        const { organisation } = c.get('person')
        const { id } = c.req.valid('param')
        const chosen = c.req.valid('query').probes?.split(',') ?? null
        const tree = await treeById(db, organisation.id, id)
        if (!tree) refuse('unknown', 'id', 'There is no such tree.')
        const all = await probesOfTree(db, organisation.id, id, organisation.timeZone)
        const missing = chosen?.find((one) => !all.some((probe) => probe.id === one))
        if (missing)
          refuse('unknown', 'probes', 'One of these readings is not of this tree.', { value: missing })
        const probes = chosen ? all.filter((probe) => chosen.includes(probe.id)) : all
        return c.json(sectionsFor(tree, probes, chosen), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/probes/{id}/borders',
        tags,
        summary: 'Accept the borders of a trace, as proposed or moved',
        request: { ...idParam, ...body(bordersInput) },
        responses: answers(borders),
      }),
      async (c) => {
        const person = allow(c, 'inspector', 'officer')
        return c.json(await acceptBorders(deps, person, c.req.valid('param').id, c.req.valid('json')), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/probes/{id}/trace.csv',
        tags,
        summary: 'The text of a trace as it came from the instrument',
        request: idParam,
        responses: { 200: { description: 'The text' }, default: nothing.default },
      }),
      async (c) => {
        const found = await rawTrace(db, c.get('person').organisation.id, c.req.valid('param').id)
        if (!found) refuse('unknown', 'id', 'There is no such trace.')
        const name = `${found.tag}-${found.label || 'trace'}`.replace(/[^\w.-]+/g, '_')
        return c.body(found.raw, 200, {
          'content-type': 'text/csv; charset=utf-8',
          'content-disposition': `attachment; filename="${name}.csv"`,
        })
      },
    )
}
