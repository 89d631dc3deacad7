import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, ringAt } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

describe.each(databases)('sites, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())

  const green = {
    name: 'Lamp Green',
    outline: {
      type: 'Polygon',
      coordinates: [
        ringAt(lampGreen, [
          [0, 0],
          [300, 0],
          [300, 200],
          [0, 200],
        ]),
      ],
    },
    timeZone: null,
    windRose: Array.from({ length: 16 }, () => 1 / 16),
    detourFactor: 1.3,
  }

  it('adds, lists and changes a site, and guards its version', async () => {
    const made = await officer('POST', '/sites', green)
    expect(made.body).toMatchObject({ name: 'Lamp Green', detourFactor: 1.3, version: 1 })
    const changed = await officer('PUT', `/sites/${made.body.id}`, {
      ...green,
      timeZone: 'Pacific/Auckland',
      version: 1,
    })
    expect(changed.body).toMatchObject({ timeZone: 'Pacific/Auckland', version: 2 })
    expect((await officer('GET', '/sites')).body.sites).toEqual([changed.body])
    const late = await officer('PUT', `/sites/${made.body.id}`, { ...green, version: 1 })
    expect([late.status, late.body.current.version]).toEqual([409, 2])
    expect((await officer('PUT', `/sites/${crypto.randomUUID()}`, { ...green, version: 1 })).status).toBe(404)
  })

  it('keeps whom to call when people must be kept out, also through a change that does not know of them', async () => {
    const warden = { name: 'The warden', role: 'Warden', telephone: '5550 17', note: 'Has the gate key' }
    const made = (await officer('POST', '/sites', { ...green, contacts: [warden] })).body
    expect(made.contacts).toEqual([warden])
    const path = `/sites/${made.id}`
    expect((await officer('PUT', path, { ...green, version: 1 })).body.contacts).toEqual([warden])
    const duty = { name: 'Duty desk', role: '', telephone: '5550 00' }
    const changed = (await officer('PUT', path, { ...green, contacts: [duty, warden], version: 2 })).body
    expect(changed.contacts).toEqual([{ ...duty, note: '' }, warden])
    expect((await officer('PUT', path, { ...green, contacts: [], version: 3 })).body.contacts).toEqual([])
    const nobody = { ...green, contacts: [{ ...duty, telephone: ' ' }], version: 4 }
    expect((await officer('PUT', path, nobody)).body.refusals[0].path).toBe('contacts.0.telephone')
    expect((await officer('POST', '/sites', green)).body.contacts).toEqual([])
  })

  it.each([
    [
      'a wind rose that does not add up to 1',
      { windRose: Array.from({ length: 16 }, () => 0.1) },
      'out-of-range',
      'windRose',
    ],
    ['a time zone that nobody knows', { timeZone: 'Maud/Sound' }, 'unknown', 'timeZone'],
    [
      'an outline that crosses itself',
      {
        outline: {
          type: 'Polygon',
          coordinates: [
            ringAt(lampGreen, [
              [0, 0],
              [9, 9],
              [9, 0],
              [0, 9],
            ]),
          ],
        },
      },
      'geometry-crosses-itself',
      'outline',
    ],
  ])('refuses %s', async (_, change, code, path) => {
    const answer = await officer('POST', '/sites', { ...green, ...change })
    expect(answer.body.refusals[0]).toMatchObject({ code, path })
  })
})
