import { OpenAPIHono } from '@hono/zod-openapi'
import { compress } from 'hono/compress'
import { HTTPException } from 'hono/http-exception'
import { secureHeaders } from 'hono/secure-headers'
import { client } from './client.ts'
import { crews } from './crews/route.ts'
import { days } from './days/route.ts'
import { due } from './due/route.ts'
import { entries } from './entries/route.ts'
import { estimate } from './estimate/route.ts'
import { groundFeatures } from './ground-features/route.ts'
import { hotspots } from './hotspots/route.ts'
import { apiPage } from './http/api-page.ts'
import type { Deps, Env } from './http/context.ts'
import { refusalOfDatabase } from './http/database-refusal.ts'
import { sameOrigin, signedIn } from './http/guard.ts'
import { problem, Refused } from './http/problem.ts'
import { imports } from './imports/route.ts'
import { jobs } from './jobs/route.ts'
import { photos } from './photos/route.ts'
import { plans } from './plans/route.ts'
import { policy } from './policy/route.ts'
import { probes } from './probes/route.ts'
import { records } from './records/route.ts'
import { secondVersions } from './second-versions/route.ts'
import { session } from './session/route.ts'
import { sites } from './sites/route.ts'
import { tiles } from './tiles/route.ts'
import { today } from './today/route.ts'
import { trees } from './trees/route.ts'
import { uploads } from './uploads/route.ts'
import { urgentNotes } from './urgent-notes/route.ts'
import { visits } from './visits/route.ts'
import { whatIf } from './what-if/route.ts'
import { wind } from './wind/route.ts'
import { works } from './works/route.ts'
import { zones } from './zones/route.ts'

/** The whole HTTP face: sign-in and health in the open, everything else behind the guard. `webFolder` holds the built client. */
export function createApp(deps: Deps, webFolder?: string) {
  const app = new OpenAPIHono<Env>()
  app.onError((error, c) => {
    if (error instanceof Refused) return problem(c, error.refusals, error.extra)
    if (error instanceof HTTPException || error instanceof SyntaxError)
      return problem(c, [
        {
          code: 'malformed',
          path: '',
          message: 'The request could not be read. It needs a JSON body of the form in the API page.',
        },
      ])
    const ofInput = refusalOfDatabase(error)
    if (ofInput) return problem(c, [ofInput])
    console.error(error)
    return problem(c, [
      {
        code: 'internal-fault',
        path: '',
        message: 'The program failed; nothing was written. Try again, and tell the officer if it stays.',
      },
    ])
  })
  app.notFound((c) =>
    problem(c, [{ code: 'unknown', path: '', message: `There is nothing at ${c.req.path}.` }]),
  )
  app.use(
    secureHeaders({
      contentSecurityPolicy: {
        defaultSrc: ["'self'"],
        imgSrc: ["'self'", 'data:', 'blob:'],
        styleSrc: ["'self'", "'unsafe-inline'"],
        workerSrc: ["'self'", 'blob:'],
        objectSrc: ["'none'"],
        baseUri: ["'none'"],
        frameAncestors: ["'none'"],
      },
      referrerPolicy: 'no-referrer',
      strictTransportSecurity: 'max-age=63072000; includeSubDomains',
    }),
  )

  const api = new OpenAPIHono<Env>()
  // Under the tree the signal is thin.
  api.use(compress())
  api.use(sameOrigin)
  api.get('/health', (c) => c.json({ ok: true }))
  api.route('/', session(deps))
  api.use(signedIn(deps))
  for (const part of [
    jobs,
    sites,
    wind,
    crews,
    groundFeatures,
    zones,
    whatIf,
    tiles,
    imports,
    hotspots,
    estimate,
    trees,
    visits,
    works,
    urgentNotes,
    photos,
    probes,
    records,
    due,
    policy,
    plans,
    today,
    days,
    entries,
    secondVersions,
    uploads,
  ])
    api.route('/', part(deps))
  api.doc31('/openapi.json', { openapi: '3.1.0', info: { title: 'Underbough', version: '0.1.0' } })
  api.get('/docs', (c) =>
    c.html(
      apiPage(
        api.getOpenAPI31Document({ openapi: '3.1.0', info: { title: 'Underbough', version: '0.1.0' } }),
      ),
    ),
  )
  app.route('/api', api)
  app.all('/api/*', (c) => c.notFound())
  if (webFolder) app.get('*', (c) => client(webFolder, c.req.path, c.req.header('accept-encoding') ?? ''))
  return app
}
