import { OpenAPIHono, z } from '@hono/zod-openapi'
import type { Role } from '@underbough/model'
import type { Context, MiddlewareHandler } from 'hono'
import type { Env, Person } from './context.ts'
import { problem, problemSchema, refusalsOf, refuse } from './problem.ts'

/** A small app for one subject; app.ts joins them. A body that does not fit its schema is refused field by field. */
export function subject() {
  return new OpenAPIHono<Env>({
    defaultHook: (result, c) => {
      if (!result.success)
        return problem(c, refusalsOf(result.error, 'data' in result ? result.data : undefined))
    },
  })
}

const json = <T extends z.ZodType>(schema: T) => ({ 'application/json': { schema } })

/** Responses of a route: its own answer, and the problem document for everything else. */
export function answers<T extends z.ZodType>(schema: T, description = 'The answer') {
  return {
    200: { description, content: json(schema) },
    default: { description: 'Why not', content: { 'application/problem+json': { schema: problemSchema } } },
  } as const
}

export const nothing = {
  204: { description: 'Done' },
  default: { description: 'Why not', content: { 'application/problem+json': { schema: problemSchema } } },
} as const

export const body = <T extends z.ZodType>(schema: T) =>
  ({ body: { content: json(schema), required: true } }) as const
export const idParam = { params: z.object({ id: z.uuid() }) } as const

/** Lets only the named roles through. */
export function only(...allowed: Role[]): MiddlewareHandler<Env> {
  return async (c, next) => {
    const { role, organisation } = c.get('person')
    if (!allowed.includes(role))
      refuse(
        'forbidden',
        '',
        `A ${role} may read this, not change it. Ask a ${allowed[0]} of ${organisation.name}.`,
      )
    await next()
  }
}

/** The person asking, if they hold one of the named roles; refused otherwise. */
export function allow(c: Context<Env>, ...allowed: Role[]): Person {
  const person = c.get('person')
  if (!allowed.includes(person.role))
    refuse(
      'forbidden',
      '',
      `A ${person.role} may read this, not change it. Ask a ${allowed[0]} of ${person.organisation.name}.`,
    )
  return person
}
