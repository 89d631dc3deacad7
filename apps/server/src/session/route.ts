import { createRoute, z } from '@hono/zod-openapi'
import { member, organisation } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { answers, body, nothing, subject } from '../http/subject.ts'
import { personOf, signedOut, signIn } from './service.ts'

const me = z.object({ me: member.extend({ organisation }) }).openapi('Me')

export const session = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/session',
        tags: ['session'],
        summary: 'Who is signed in',
        responses: answers(me),
      }),
      async (c) => {
        const person = await personOf(deps, c.req.raw.headers)
        return c.json({ me: person ?? (await signedOut(deps)) }, 200)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/session',
        tags: ['session'],
        summary: 'Sign in',
        request: body(z.object({ email: z.email(), password: z.string().min(1).max(256) })),
        responses: answers(me),
      }),
      async (c) => {
        const response = await signIn(deps, c.req.valid('json'), c.req.raw.headers)
        const cookies = response.headers.getSetCookie()
        for (const cookie of cookies) c.header('set-cookie', cookie, { append: true })
        const headers = new Headers({ cookie: cookies.map((cookie) => cookie.split(';')[0]).join('; ') })
        return c.json({ me: (await personOf(deps, headers)) ?? (await signedOut(deps)) }, 200)
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/session',
        tags: ['session'],
        summary: 'Sign out',
        responses: nothing,
      }),
      async (c) => {
        const response = await deps.auth.api.signOut({ headers: c.req.raw.headers, asResponse: true })
        for (const cookie of response.headers.getSetCookie()) c.header('set-cookie', cookie, { append: true })
        return c.body(null, 204)
      },
    )
