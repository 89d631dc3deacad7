import { createRoute, z } from '@hono/zod-openapi'
import { batchAnswer, batchInput, batchLimits, id } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { answers, body, subject } from '../http/subject.ts'
import { upTo } from '../http/up-to.ts'
import { missingKeys, takeBatch } from './service.ts'

const MIB = 1024 * 1024
const tags = ['entries']
/** Envelopes are read one by one in the service. */
const batch = batchInput.extend({ entries: z.array(z.unknown()).max(batchLimits.entries) }).openapi('Batch')

/** What people enter on devices, sent when there is a signal. */
export const entries = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'post',
        path: '/entries',
        tags,
        summary: 'Put entries of a device on record, each judged on its own',
        middleware: upTo(8 * MIB, 'Send fewer entries at a time.'),
        request: body(batch),
        responses: answers(batchAnswer),
      }),
      async (c) => c.json(await takeBatch(deps, c.get('person'), c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/entries/known',
        tags,
        summary: 'Which of these keys are not on record',
        request: body(z.object({ keys: z.array(id).max(1000) })),
        responses: answers(z.object({ missing: z.array(id), officeMark: z.int().min(0) })),
      }),
      async (c) => c.json(await missingKeys(deps, c.get('person'), c.req.valid('json').keys), 200),
    )
