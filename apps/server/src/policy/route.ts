import { createRoute, z } from '@hono/zod-openapi'
import { exposurePolicySchema } from '@underbough/exposure'
import { policySchema, readPolicy } from '@underbough/rating'
import { policyOf } from '../due/service.ts'
import type { Deps } from '../http/context.ts'
import { Refused } from '../http/problem.ts'
import { allow, answers, body, subject } from '../http/subject.ts'
import { changeExposurePolicy, exposurePolicyView } from './exposure.ts'
import { insertPolicy } from './queries.ts'

const exposureEditions = z
  .object({
    edition: z.int().min(0).describe('0: the starting figures'),
    policy: exposurePolicySchema,
    editions: z.array(
      z.object({ edition: z.int(), reason: z.string(), madeBy: z.string(), madeAt: z.string() }),
    ),
  })
  .openapi('ExposureEditions')

export const policy = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/policy',
        tags: ['policy'],
        summary: 'The policy in force',
        responses: answers(z.object({ policy: policySchema })),
      }),
      async (c) => c.json({ policy: await policyOf(deps.database.db, c.get('person').organisation.id) }, 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/policy',
        tags: ['policy'],
        summary: 'A new edition of the policy',
        request: body(z.object({ policy: z.unknown() })),
        responses: answers(z.object({ policy: policySchema, jobId: z.uuid() })),
      }),
      async (c) => {
        const person = allow(c, 'manager', 'officer')
        const read = readPolicy(c.req.valid('json').policy)
        if (!read.ok) throw new Refused(read.refusals)
        await insertPolicy(deps.database.db, person.organisation.id, read.value, person.personId)
        const jobId = await deps.jobs.start(person.organisation.id, 'due', { treeIds: null }, person.personId)
        return c.json({ policy: read.value, jobId }, 200)
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/exposure-policy',
        tags: ['policy'],
        summary: 'What the figures of people under a fall assume',
        responses: answers(exposureEditions),
      }),
      async (c) => c.json(await exposurePolicyView(deps.database.db, c.get('person').organisation.id), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/exposure-policy',
        tags: ['policy'],
        summary: 'A new edition of what they assume; every tree is computed anew',
        request: body(
          z.object({
            version: z.int().min(0).describe('the edition it was made from'),
            policy: exposurePolicySchema,
            reason: z.string().trim().min(1).max(400),
          }),
        ),
        responses: answers(exposureEditions.extend({ jobId: z.uuid() })),
      }),
      async (c) =>
        c.json(await changeExposurePolicy(deps, allow(c, 'manager', 'officer'), c.req.valid('json')), 200),
    )
