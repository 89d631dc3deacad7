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
