import { createRoute, z } from '@hono/zod-openapi'
import { photo, position } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { allow, answers, idParam, nothing, subject } from '../http/subject.ts'
import { photoById } from './queries.ts'
import { keepPhoto } from './service.ts'

const meta = photo.pick({ id: true, ownerKind: true, ownerId: true, caption: true }).extend({
  takenAt: z.iso.datetime({ offset: true }).nullable(),
  position: position.nullable(),
  sha256: z.string().optional(),
})
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
        return c.json(
          await keepPhoto(deps, person, meta.parse(given), new Uint8Array(await form.file.arrayBuffer())),
          200,
        )
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/photos/{id}',
        tags: ['photos'],
        summary: 'The original bytes of a photo',
        request: idParam,
        responses: { 200: { description: 'The bytes' }, default: nothing.default },
      }),
      async (c) => {
        const found = await photoById(
          deps.database.db,
          c.get('person').organisation.id,
          c.req.valid('param').id,
        )
        if (!found) refuse('unknown', 'id', 'There is no such photo.')
        const headers = {
          'content-type': found.mediaType,
          'cache-control': 'private, max-age=31536000, immutable',
          'content-security-policy': 'sandbox',
          etag: `"${found.sha256}"`,
        }
        return c.body(found.content.slice().buffer, 200, headers)
      },
    )
