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

/**
 * A failed zod check as refusals, each with the path of its field. A check of the model's own carries its declared code in `params`;
 * where none of several forms fits, the form that was nearest says what it lacks. `input` is what was checked, to name the value refused.
 */
export function refusalsOf(error: z.core.$ZodError, input?: unknown): Refusal[] {
  return error.issues.flatMap(nearest).map((issue) => {
    const path = issue.path.join('.')
    const value = shown(issue.path.reduce<unknown>((at, key) => (at as Members)?.[key], input))
    const { message } = issue
    const params = issue.code === 'custom' ? issue.params : undefined
    if (params?.code in refusalCodes)
      return { code: params!.code as RefusalCode, path, value: params!.value ?? value, message }
    if (issue.code === 'too_big')
      return {
        code: 'out-of-range',
        path,
        value,
        limit: `${issue.inclusive === false ? 'below' : 'at most'} ${issue.maximum}`,
        message,
      }
    if (issue.code === 'too_small')
      return {
        code: 'out-of-range',
        path,
        value,
        limit: `${issue.inclusive === false ? 'above' : 'at least'} ${issue.minimum}`,
        message,
      }
    // Zod leaves the value out of its issues and names its kind in the message only.
    if (issue.code === 'invalid_type' && message.endsWith('received undefined'))
      return { code: 'required', path, message: `${path || 'The body'} is missing.` }
    return { code: 'malformed', path, value, message: `${path}: ${message}` }
  })
}

type Members = Record<PropertyKey, unknown> | undefined

/** What a refusal repeats of the input: a figure or a short text. */
const shown = (value: unknown) =>
  typeof value === 'number' ||
  typeof value === 'boolean' ||
  (typeof value === 'string' && value.length <= 200)
    ? value
    : undefined

/** An issue, or those of the form of a union that came nearest: it disagrees with the fewest fixed words, then in the fewest places. */
function nearest(issue: z.core.$ZodIssue): z.core.$ZodIssue[] {
  if (issue.code !== 'invalid_union') return [issue]
  const misses = (form: z.core.$ZodIssue[]) =>
    form.filter((one) => one.code === 'invalid_value').length * 1000 + form.length
  const [form] = issue.errors.toSorted((a, b) => misses(a) - misses(b))
  // Where the value itself is of another form, no field is to blame.
  if (!form || form.some((one) => one.path.length === 0)) return [issue]
  return form.flatMap((one) => nearest({ ...one, path: [...issue.path, ...one.path] }))
}
