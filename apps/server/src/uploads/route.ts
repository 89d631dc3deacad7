import { createRoute, z } from '@hono/zod-openapi'
import { batchLimits } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { allow, answers, subject } from '../http/subject.ts'
import { upTo } from '../http/up-to.ts'
import { keepPiece, progressOf } from './service.ts'

const tags = ['uploads']
const params = z.object({ sha256: z.string().regex(/^[0-9a-f]{64}$/) })
const bytesFromHere = z.coerce.number().int().min(0).max(2_147_483_647)
const progress = z.object({
  received: z.int().min(0).describe('bytes here; the next piece starts at this byte'),
  whole: z.boolean(),
})

/** Files on their way to the office, piece by piece, each named by the SHA-256 of the whole. */
export const uploads = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/uploads/{sha256}',
        tags,
        summary: 'How much of a file is here',
        request: { params },
        responses: answers(progress),
      }),
      async (c) => {
        const person = allow(c, 'inspector', 'officer', 'manager')
        return c.json(await progressOf(deps, person, c.req.valid('param').sha256), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/uploads/{sha256}',
        tags,
        summary: 'Keep the next piece of a file',
        middleware: upTo(batchLimits.pieceBytes, 'Send it in smaller pieces.'),
        request: {
          params,
          query: z.object({ from: bytesFromHere, of: bytesFromHere.pipe(z.number().min(1)) }),
          body: {
            content: {
              'application/octet-stream': { schema: z.any().openapi({ type: 'string', format: 'binary' }) },
            },
            required: true,
          },
        },
        responses: answers(progress),
      }),
      async (c) => {
        const person = allow(c, 'inspector', 'officer', 'manager')
        const content = new Uint8Array(await c.req.arrayBuffer())
        const piece = { ...c.req.valid('param'), ...c.req.valid('query'), content }
        return c.json(await keepPiece(deps, person, piece), 200)
      },
    )
