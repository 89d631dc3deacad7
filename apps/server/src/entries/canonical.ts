import { createHash } from 'node:crypto'
import { refuse } from '../http/problem.ts'

/** Deeper than any record; what is deeper is no entry. */
const DEEPEST = 64

/** JSON in one way of writing: members in the order of their UTF-16 units, no blanks (RFC 8785, for values read from JSON). */
export function canonical(value: unknown, depth = 0): string {
  if (depth > DEEPEST)
    refuse('malformed', 'body', 'The entry nests deeper than any record does.', {
      limit: `at most ${DEEPEST} levels`,
    })
  if (Array.isArray(value)) return `[${value.map((one) => canonical(one, depth + 1)).join(',')}]`
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null'
  const members = Object.entries(value)
    .filter(([, one]) => one !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, one]) => `${JSON.stringify(key)}:${canonical(one, depth + 1)}`)
  return `{${members.join(',')}}`
}

/** SHA-256 of an entry's kind and body as they came, in hexadecimal. */
export const digestOf = (kind: string, body: unknown) =>
  createHash('sha256')
    .update(canonical({ kind, body: body ?? null }))
    .digest('hex')
