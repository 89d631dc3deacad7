import type { MiddlewareHandler } from 'hono'
import { personOf } from '../session/service.ts'
import type { Deps, Env } from './context.ts'
import { refuse } from './problem.ts'

/** No open door: every route behind it needs a session, looked up afresh so that a person who left is out at once. */
export function signedIn(deps: Deps): MiddlewareHandler<Env> {
  return async (c, next) => {
    const person = await personOf(deps, c.req.raw.headers)
    if (!person) refuse('signed-out', '', 'Nobody is signed in. Sign in and try again.')
    c.set('person', person)
    await next()
  }
}

/** Writes are taken from our own pages only: the browser's word first, the Origin header where it gives none. */
export const sameOrigin: MiddlewareHandler = async (c, next) => {
  if (!['GET', 'HEAD', 'OPTIONS'].includes(c.req.method)) {
    const site = c.req.header('sec-fetch-site')
    const origin = c.req.header('origin')
    const foreign = site
      ? site !== 'same-origin' && site !== 'none'
      : origin !== undefined && new URL(origin).host !== c.req.header('host')
    if (foreign) refuse('forbidden', '', 'This request came from another page.')
  }
  await next()
}
