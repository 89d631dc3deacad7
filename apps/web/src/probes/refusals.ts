import { type Refusal, type RefusalCode, refusal, refusalCodes } from '@underbough/model'
import type { z } from 'zod'

/** What the record's own check found, said for a form: one refusal a field, each with a sentence of its own. */
export const refusalsOfForm = (error: z.core.$ZodError): Refusal[] => error.issues.map(one)

function one(issue: z.core.$ZodIssue): Refusal {
  const path = issue.path.join('.')
  const missing = () => refusal('required', path, { message: 'This is still missing.' })
  const outside = (limit: string) =>
    refusal('out-of-range', path, { limit, message: `${limit[0]!.toUpperCase()}${limit.slice(1)}.` })
  switch (issue.code) {
    case 'custom': {
      const { code, value } = (issue.params ?? {}) as { code?: string; value?: unknown }
      return refusal(code && code in refusalCodes ? (code as RefusalCode) : 'malformed', path, {
        value,
        message: issue.message,
      })
    }
    case 'too_big':
      return outside(
        `${issue.inclusive === false ? 'less than' : 'at most'} ${amount(issue.maximum, issue.origin)}`,
      )
    case 'too_small':
      if (issue.origin === 'string') return missing()
      return outside(
        `${issue.inclusive === false ? 'more than' : 'at least'} ${amount(issue.minimum, issue.origin)}`,
      )
    case 'invalid_type':
    case 'invalid_value':
    case 'invalid_union':
      return issue.code === 'invalid_type' && issue.expected === 'int'
        ? refusal('malformed', path, { message: 'A whole number.' })
        : missing()
    default:
      return refusal('malformed', path, { message: 'This cannot be read.' })
  }
}

function amount(limit: number | bigint, origin: string): string {
  const words =
    origin === 'string' ? ' characters' : origin === 'array' ? (limit === 1 ? ' row' : ' rows') : ''
  return `${limit}${words}`
}
