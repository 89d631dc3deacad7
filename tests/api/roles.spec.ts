import { randomUUID } from 'node:crypto'
import { roles } from '@underbough/model'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Answer, databases, type Harness, startHarness } from '../../apps/server/src/testing/harness.ts'

interface Operation {
  parameters?: { name: string; in: string; required?: boolean }[]
  requestBody?: object
  responses: Record<string, object>
}
interface Route {
  method: string
  path: string
  operation: Operation
}

/** Values that stand for what a path or query asks for; a record that is asked for is never there. */
const stand: Record<string, string> = {
  z: '14',
  x: '7815',
  y: '9705.mvt',
  bbox: '-8.3,-31.7,-8.2,-31.6',
  as: 'csv',
}
const addressOf = ({ path, operation }: Route) => {
  const asked = (operation.parameters ?? []).filter((p) => p.in === 'query' && p.required)
  const query = asked.map((p) => `${p.name}=${stand[p.name] ?? randomUUID()}`).join('&')
  return (
    path.replace(/\{(\w+)\}/g, (_, name: string) => stand[name] ?? randomUUID()) + (query ? `?${query}` : '')
  )
}
/** Every answer is one the document names: a success with its own number, or a problem with its reasons. */
function expectDocumented({ method, path, operation }: Route, who: string, answer: Answer) {
  const at = `${method} ${path} as ${who}: ${answer.status} ${JSON.stringify(answer.body)}`
  expect(answer.status, at).toBeLessThan(500)
  if (answer.status < 400)
    return expect(Object.keys(operation.responses), at).toContain(String(answer.status))
  expect(Object.keys(operation.responses), at).toContain('default')
  expect(answer.headers.get('content-type'), at).toContain('application/problem+json')
  expect(answer.body, at).toMatchObject({ status: answer.status, title: expect.stringMatching(/\S/) })
  expect(answer.body.refusals[0].message, at).toMatch(/\S/)
}

describe.each(databases)('every route of the API, on %s', (kind) => {
  let harness: Harness
  let routes: Route[]
  beforeAll(async () => {
    harness = await startHarness(kind)
    const { body } = await (await harness.as('officer'))('GET', '/openapi.json')
    routes = Object.entries(body.paths as Record<string, Record<string, Operation>>).flatMap(
      ([path, methods]) =>
        Object.entries(methods).map(([method, operation]) => ({
          method: method.toUpperCase(),
          path,
          operation,
        })),
    )
    expect(routes.length).toBeGreaterThan(60)
  })
  afterAll(() => harness?.close())
  const reads = () => routes.filter((route) => route.method === 'GET')
  const writes = () => routes.filter((route) => route.method !== 'GET' && !route.path.startsWith('/session'))

  it.each(roles)('answers each read of the %s as documented', async (role) => {
    const ask = await harness.as(role)
    for (const route of reads()) expectDocumented(route, role, await ask('GET', addressOf(route)))
  })

  it('reads no body that is not JSON where JSON is asked for', async () => {
    const officer = await harness.as('officer')
    const form = new FormData()
    form.set('file', 'x')
    for (const route of writes())
      if (route.operation.requestBody) {
        const answer = await officer(route.method, addressOf(route), form)
        expectDocumented(route, 'officer', answer)
        expect(answer.status, `${route.method} ${route.path}`).toBeGreaterThanOrEqual(400)
      }
  })

  it('gives a stranger nothing but the way in', async () => {
    for (const route of [...reads(), ...writes()]) {
      const answer = await harness.stranger(route.method, addressOf(route), route.operation.requestBody && {})
      expect(answer.status, `${route.method} ${route.path}`).toBe(401)
      expectDocumented(route, 'stranger', answer)
    }
  })

  it('lets a client write nothing by an empty request', async () => {
    const client = await harness.as('client')
    for (const route of writes()) {
      const answer = await client(route.method, addressOf(route), route.operation.requestBody && {})
      expectDocumented(route, 'client', answer)
      // Without a body to read there is nothing to find wrong before the role is.
      const expected = route.operation.requestBody ? [400, 403, 404] : [403]
      expect(expected, `${route.method} ${route.path}`).toContain(answer.status)
    }
  })

  it.each(['inspector', 'officer', 'manager'] as const)(
    'refuses an empty request of the %s with reasons',
    async (role) => {
      const ask = await harness.as(role)
      for (const route of writes()) {
        const answer = await ask(route.method, addressOf(route), route.operation.requestBody && {})
        expectDocumented(route, role, answer)
        // Only the two that date or work out everything anew need no more than an empty body.
        if (answer.status < 400) expect(route.path).toMatch(/^\/(due|exposure)\/recompute$/)
      }
      await harness.deps.jobs.idle()
    },
  )
})
