import { z } from '@hono/zod-openapi'
import { type Refusal, type RefusalCode, refusalCodes } from '@underbough/model'
import type { Context } from 'hono'

const statusOf: Partial<Record<RefusalCode, 401 | 403 | 404 | 409 | 413 | 500 | 503>> = {
  'signed-out': 401,
  forbidden: 403,
  unknown: 404,
  conflict: 409,
  'in-use': 409,
  'visit-closed': 409,
  'too-large': 413,
  'internal-fault': 500,
  unavailable: 503,
}

/** Thrown by a service to leave with reasons; every route turns it into one problem document (RFC 9457). */
export class Refused extends Error {
  constructor(
    readonly refusals: Refusal[],
    /** More members for the problem document, for example the stored record beside a conflict. */
    readonly extra: Record<string, unknown> = {},
  ) {
    super(refusals.map((r) => `${r.code}${r.path ? ` at ${r.path}` : ''}: ${r.message}`).join(' '))
  }
}

/** Stops with one refusal. */
export function refuse(
  code: RefusalCode,
  path = '',
  message: string = refusalCodes[code],
  more: Partial<Refusal> = {},
): never {
  throw new Refused([{ code, path, message, ...more }])
}

export const problemSchema = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    refusals: z.array(
      z.object({
        code: z.enum(Object.keys(refusalCodes) as [RefusalCode, ...RefusalCode[]]),
        path: z.string(),
        value: z.unknown().optional(),
        limit: z.string().optional(),
        message: z.string(),
      }),
    ),
  })
  .openapi('Problem')

export function problem(c: Context, refusals: Refusal[], extra: Record<string, unknown> = {}) {
  const first = refusals[0]!
  const status = statusOf[first.code] ?? 400
  const body = {
    type: 'about:blank',
    title: refusalCodes[first.code],
    status,
    detail: refusals.map((r) => r.message).join(' '),
    refusals,
    ...extra,
  }
  return c.body(JSON.stringify(body), status, { 'content-type': 'application/problem+json; charset=utf-8' })
}

/** A failed zod check as refusals with the path of each field. */
export function refusalsOf(error: z.core.$ZodError): Refusal[] {
  return error.issues.map((issue) => {
    const path = issue.path.join('.')
    if (issue.code === 'too_big')
      return { code: 'out-of-range', path, limit: `at most ${issue.maximum}`, message: issue.message }
    if (issue.code === 'too_small')
      return { code: 'out-of-range', path, limit: `at least ${issue.minimum}`, message: issue.message }
    if (issue.code === 'invalid_type' && issue.input === undefined)
      return { code: 'required', path, message: `${path || 'The body'} is missing.` }
    return { code: 'malformed', path, message: `${path}: ${issue.message}` }
  })
}
