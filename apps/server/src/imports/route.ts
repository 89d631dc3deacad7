import { createRoute, z } from '@hono/zod-openapi'
import { changes, verdicts } from '@underbough/model'
import { bodyLimit } from 'hono/body-limit'
import type { Deps } from '../http/context.ts'
import { problem, problemSchema, refuse } from '../http/problem.ts'
import { answers, body, idParam, nothing, only, subject } from '../http/subject.ts'
import { anyMapping } from './mapping.ts'
import {
  beginImport,
  cancelImport,
  commitImport,
  importRows,
  importStatus,
  listImports,
  MAX_BYTES,
  previewImport,
  refusedCsv,
} from './service.ts'

const tags = ['imports']
const kinds = z.enum(['trees', 'zones', 'ground'])
const note = problemSchema.shape.refusals.element
const guess = z.object({ confidence: z.enum(['sure', 'likely', 'guess', 'none']), because: z.string() })
const begun = z
  .object({
    importId: z.uuid(),
    table: z.object({
      columns: z.array(z.object({ name: z.string(), samples: z.array(z.string()) })),
      rows: z.int(),
      format: z.enum(['csv', 'geojson']),
      encoding: z.string(),
      delimiter: z.string().nullable(),
      crs: z.string().nullable(),
      notes: z.array(note),
    }),
    suggested: anyMapping,
    explanations: z
      .object({
        columns: z.array(
          guess.extend({ column: z.string(), field: z.string(), examples: z.array(z.string()) }),
        ),
        settings: z.record(z.string(), guess),
      })
      .nullable(),
  })
  .openapi('ImportBegun')
const status = z
  .object({
    importId: z.uuid(),
    kind: kinds,
    fileName: z.string(),
    state: z.enum(['mapping', 'reading', 'ready', 'writing', 'done', 'cancelled', 'failed']),
    mapping: anyMapping.nullable(),
    jobId: z.uuid().nullable(),
    progress: z.object({ done: z.int(), total: z.int() }),
    counts: z
      .object({ rows: z.int(), taken: z.int(), noted: z.int(), refused: z.int() })
      .extend({ new: z.int(), changed: z.int(), same: z.int(), gone: z.int() }),
    byCode: z.array(z.object({ code: z.string(), count: z.int() })),
    notes: z.array(note),
    refusal: note.nullable(),
    madeAt: z.string(),
  })
  .openapi('ImportStatus')
const heads = z.object({
  imports: z.array(
    status.pick({ importId: true, kind: true, fileName: true, state: true, counts: true, madeAt: true }),
  ),
})
const rows = z
  .object({
    rows: z.array(
      z.object({
        line: z
          .int()
          .nullable()
          .describe('line or number in the file; null for a record that is gone from it'),
        verdict: z.enum(verdicts),
        change: z.enum(changes).nullable(),
        notes: z.array(note),
        raw: z.record(z.string(), z.string()),
        sourceKey: z.string().nullable(),
        record: z.unknown(),
        differences: z.array(z.object({ field: z.string(), from: z.unknown(), to: z.unknown() })),
      }),
    ),
    total: z.int(),
    page: z.int(),
    pageRows: z.int(),
  })
  .openapi('ImportRows')
const started = z.object({ jobId: z.uuid() })
const filter = z.object({
  verdict: z.enum(verdicts).optional(),
  change: z.enum(changes).optional(),
  code: z.string().max(60).optional(),
  page: z.coerce.number().int().min(1).max(1e6).default(1),
})
const officer = only('officer', 'manager')
/** Room for the form around the file. */
const FORM_BYTES = 64 * 1024
const limit = bodyLimit({
  maxSize: MAX_BYTES + FORM_BYTES,
  onError: (c) =>
    problem(c, [
      {
        code: 'too-large',
        path: 'file',
        limit: 'at most 64 MiB',
        message: 'The file is larger than 64 MiB. Split it.',
      },
    ]),
})

export const imports = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/imports',
        tags,
        summary: 'Files taken in before, the latest first',
        middleware: officer,
        responses: answers(heads),
      }),
      async (c) => c.json({ imports: await listImports(deps, c.get('person')) }, 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/imports',
        tags,
        summary: 'Take in a file of trees, zones or ground, and suggest how to read it',
        middleware: [officer, limit] as const,
        request: {
          body: {
            required: true,
            content: {
              'multipart/form-data': {
                schema: z.object({
                  kind: kinds,
                  file: z.any().openapi({ type: 'string', format: 'binary' }),
                }),
              },
            },
          },
        },
        responses: answers(begun),
      }),
      async (c) => {
        const { kind, file } = c.req.valid('form')
        if (!(file instanceof File)) return refuse('required', 'file', 'The file is missing.')
        const bytes = new Uint8Array(await file.arrayBuffer())
        return c.json(await beginImport(deps, c.get('person'), kind, file.name || 'file', bytes), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/imports/{id}/preview',
        tags,
        summary: 'Read the file by a mapping, as a job',
        middleware: officer,
        request: { ...idParam, ...body(z.object({ mapping: z.unknown() })) },
        responses: answers(started),
      }),
      async (c) => {
        const { mapping } = c.req.valid('json')
        return c.json(
          { jobId: await previewImport(deps, c.get('person'), c.req.valid('param').id, mapping) },
          200,
        )
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/imports/{id}',
        tags,
        summary: 'How far an import is, and what it would change',
        middleware: officer,
        request: idParam,
        responses: answers(status),
      }),
      async (c) => c.json(await importStatus(deps, c.get('person'), c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/imports/{id}/rows',
        tags,
        summary: 'Rows with their verdict and change, 100 to a page',
        middleware: officer,
        request: { ...idParam, query: filter },
        responses: answers(rows),
      }),
      async (c) => {
        const { page, ...wanted } = c.req.valid('query')
        return c.json(await importRows(deps, c.get('person'), c.req.valid('param').id, wanted, page), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/imports/{id}/refused.csv',
        tags,
        summary: 'Refused rows as they came, with their reasons',
        middleware: officer,
        request: idParam,
        responses: {
          200: { description: 'CSV (RFC 4180)', content: { 'text/csv': { schema: z.string() } } },
          default: {
            description: 'Why not',
            content: { 'application/problem+json': { schema: problemSchema } },
          },
        },
      }),
      async (c) =>
        c.text(await refusedCsv(deps, c.get('person'), c.req.valid('param').id), 200, {
          'content-type': 'text/csv; charset=utf-8',
          'content-disposition': 'attachment; filename="refused.csv"',
        }) as never,
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/imports/{id}/commit',
        tags,
        summary: 'Write what was read, as a job, all or nothing',
        middleware: officer,
        request: idParam,
        responses: answers(started),
      }),
      async (c) => c.json({ jobId: await commitImport(deps, c.get('person'), c.req.valid('param').id) }, 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/imports/{id}/cancel',
        tags,
        summary: 'Stop an import; nothing of it stays',
        middleware: officer,
        request: idParam,
        responses: nothing,
      }),
      async (c) => {
        await cancelImport(deps, c.get('person'), c.req.valid('param').id)
        return c.body(null, 204)
      },
    )
