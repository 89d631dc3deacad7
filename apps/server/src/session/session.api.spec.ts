import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { databases, type Harness, startHarness } from '../testing/harness.ts'

describe.each(databases)('signing in, on %s', (kind) => {
  let harness: Harness
  beforeAll(async () => {
    harness = await startHarness(kind)
  })
  afterAll(() => harness?.close())

  it('opens nothing but health and sign-in to a stranger', async () => {
    expect((await harness.stranger('GET', '/health')).status).toBe(200)
    for (const path of ['/jobs', '/trees', '/openapi.json', '/tiles/trees/0/0/0.mvt']) {
      const answer = await harness.stranger('GET', path)
      expect(answer.status, path).toBe(401)
      expect(answer.body.refusals[0].code).toBe('signed-out')
    }
  })

  it('signs a person in with the role they hold now, and out again', async () => {
    const ask = await harness.as('client')
    const me = await ask('GET', '/session')
    expect(me.body.me).toMatchObject({ role: 'client', organisation: { name: 'Port Maud' } })
    expect((await ask('DELETE', '/session')).status).toBe(204)
    expect((await ask('GET', '/session')).status).toBe(401)
  })

  it('says the same for a wrong password and an unknown name', async () => {
    const wrong = await harness.stranger('POST', '/session', {
      email: 'officer@portmaud.example',
      password: 'not this one',
    })
    const unknown = await harness.stranger('POST', '/session', {
      email: 'nobody@portmaud.example',
      password: 'not this one',
    })
    expect([wrong.status, unknown.status]).toEqual([401, 401])
    expect(wrong.body).toEqual(unknown.body)
  })

  it('refuses a body that does not fit, field by field', async () => {
    const answer = await harness.stranger('POST', '/session', { email: 'no address' })
    expect(answer.status).toBe(400)
    expect(answer.headers.get('content-type')).toContain('application/problem+json')
    expect(answer.body.refusals.map((r: { code: string; path: string }) => [r.code, r.path])).toEqual([
      ['malformed', 'email'],
      ['required', 'password'],
    ])
  })
})
