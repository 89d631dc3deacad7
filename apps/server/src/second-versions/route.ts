import { createRoute, z } from '@hono/zod-openapi'
import { secondVersion, tree, treeInput } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { allow, answers, body, idParam, subject } from '../http/subject.ts'
import { choose, type Take, versionsBeside } from './service.ts'

const tags = ['second versions']
const side = z.enum(['stored', 'offered'])
const fields = z.strictObject(
  Object.fromEntries(Object.keys(treeInput.shape).map((field) => [field, side.optional()])),
)
const choice = z.object({
  take: z
    .union([side, fields])
    .describe('one version whole, or a side for each field; the rest stays as stored'),
  version: z.int().min(1).describe('of the stored record as it was shown'),
})

/** Two versions of one record, made from the same earlier one, until the office chooses. */
export const secondVersions = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/second-versions',
        tags,
        summary: 'Versions that came after somebody else had changed the record',
        request: { query: z.object({ open: z.enum(['true', 'false']).default('false') }) },
        responses: answers(
          z.object({ versions: z.array(z.object({ version: secondVersion, stored: tree })) }),
        ),
      }),
      async (c) => {
        const person = allow(c, 'officer', 'manager')
        return c.json(
          { versions: await versionsBeside(deps, person, c.req.valid('query').open === 'true') },
          200,
        )
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/second-versions/{id}/choose',
        tags,
        summary: 'Choose between two versions, whole or field by field',
        request: { ...idParam, ...body(choice) },
        responses: answers(tree),
      }),
      async (c) => {
        const person = allow(c, 'officer', 'manager')
        const { take, version } = c.req.valid('json')
        return c.json(await choose(deps, person, c.req.valid('param').id, take as Take, version), 200)
      },
    )
