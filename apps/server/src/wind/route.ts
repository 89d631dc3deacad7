import { createRoute, z } from '@hono/zod-openapi'
import { gustDay, site, windFile, windMapping, windRequest, windUnits } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { Refused, refusalsOf, refuse } from '../http/problem.ts'
import { answers, body, idParam, only, subject } from '../http/subject.ts'
import { upTo } from '../http/up-to.ts'
import { acceptRose, keepWind, lookAtWind, MAX_BYTES, windOfSite } from './service.ts'

const tags = ['wind']
const middleware = only('officer', 'manager')
const limit = upTo(MAX_BYTES + 64 * 1024, 'Split it by years, or pack it with gzip.')
const binary = z.any().openapi({ type: 'string', format: 'binary' })
const looked = z
  .object({
    rows: z.int(),
    columns: z.array(z.object({ name: z.string(), samples: z.array(z.string()) })),
    mapping: windMapping
      .extend({
        unit: z.enum(windUnits).nullable(),
        gust: z.string().nullable(),
        time: windMapping.shape.time.nullable(),
        timeZone: z.string().nullable(),
      })
      .describe('a guess; what the file does not say is null'),
    stations: z.array(z.string()),
  })
  .openapi('WindLooked')

const bytesOf = async (file: unknown) => {
  if (!(file instanceof File)) return refuse('required', 'file', 'The file is missing.')
  return { name: file.name || 'file', bytes: new Uint8Array(await file.arrayBuffer()) }
}

/** Hourly weather of a station near a site: read, kept as history, and its rose taken once somebody accepts it. */
export const wind = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'post',
        path: '/sites/{id}/wind/look',
        tags,
        summary: 'Look into a file of hourly weather and suggest how to read it; nothing is stored',
        middleware: [middleware, limit] as const,
        request: {
          ...idParam,
          body: {
            required: true,
            content: { 'multipart/form-data': { schema: z.object({ file: binary }) } },
          },
        },
        responses: answers(looked),
      }),
      async (c) => {
        const { name, bytes } = await bytesOf(c.req.valid('form').file)
        return c.json(await lookAtWind(deps, c.get('person'), c.req.valid('param').id, name, bytes), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/sites/{id}/wind',
        tags,
        summary: 'Read a file of hourly weather and keep its gusts; the rose waits to be accepted',
        middleware: [middleware, limit] as const,
        request: {
          ...idParam,
          body: {
            required: true,
            content: {
              'multipart/form-data': {
                schema: z.object({ file: binary, request: z.string().describe('JSON: how to read it') }),
              },
            },
          },
        },
        responses: answers(windFile),
      }),
      async (c) => {
        const { file, request } = c.req.valid('form')
        const { name, bytes } = await bytesOf(file)
        const given = JSON.parse(request) as unknown
        const asked = windRequest.safeParse(given)
        if (!asked.success) throw new Refused(refusalsOf(asked.error, given))
        return c.json(
          await keepWind(deps, c.get('person'), c.req.valid('param').id, name, bytes, asked.data),
          200,
        )
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/sites/{id}/wind',
        tags,
        summary: 'Files read for a site, and the strongest gust of each day',
        request: idParam,
        responses: answers(z.object({ files: z.array(windFile), days: z.array(gustDay) })),
      }),
      async (c) => c.json(await windOfSite(deps, c.get('person'), c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/wind-files/{id}/accept',
        tags,
        summary: 'Give the site this rose, and compute its trees anew',
        middleware,
        request: { ...idParam, ...body(z.object({ version: z.int().min(1).describe('of the site') })) },
        responses: answers(z.object({ site, jobId: z.uuid().nullable() })),
      }),
      async (c) =>
        c.json(
          await acceptRose(deps, c.get('person'), c.req.valid('param').id, c.req.valid('json').version),
          200,
        ),
    )
