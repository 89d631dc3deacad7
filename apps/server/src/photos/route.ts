import { createRoute, z } from '@hono/zod-openapi'
import { photo } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { allow, answers, idParam, nothing, subject } from '../http/subject.ts'
import { keepPhoto, photoToShow } from './service.ts'

const upload = z.object({
  file: z.any().openapi({ type: 'string', format: 'binary' }),
  meta: z
    .string()
    .openapi({ description: 'JSON: id, ownerKind, ownerId, caption, takenAt, position, sha256' }),
})

export const photos = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'post',
        path: '/photos',
        tags: ['photos'],
        summary: 'Keep a photo',
        request: { body: { content: { 'multipart/form-data': { schema: upload } }, required: true } },
        responses: answers(photo),
      }),
      async (c) => {
        const person = allow(c, 'inspector', 'officer', 'manager')
        const form = await c.req.parseBody()
        if (!(form.file instanceof File)) refuse('required', 'file')
        let given: unknown
        try {
          given = JSON.parse(String(form.meta))
        } catch {
          refuse('malformed', 'meta', 'meta is not JSON.')
        }
        const content = new Uint8Array(await form.file.arrayBuffer())
        return c.json(await keepPhoto(deps, person, given, content), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/photos/{id}',
        tags: ['photos'],
        summary: 'The bytes of a photo: the original as it came, or the newest copy for screens',
        request: { ...idParam, query: z.object({ copy: z.literal('screen').optional() }) },
        responses: { 200: { description: 'The bytes' }, default: nothing.default },
      }),
      async (c) => {
        const { copy } = c.req.valid('query')
        const found = await photoToShow(deps, c.get('person'), c.req.valid('param').id, copy)
        const headers = {
          'content-type': found.mediaType,
          'cache-control': found.forGood ? 'private, max-age=31536000, immutable' : 'private, max-age=60',
          'content-security-policy': 'sandbox',
          etag: `"${found.sha256}"`,
        }
        return c.body(found.content.slice().buffer, 200, headers)
      },
    )
