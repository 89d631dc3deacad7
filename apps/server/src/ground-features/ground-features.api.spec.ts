import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, ringAt } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

describe.each(databases)('ground features, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())

  const path = {
    siteId: null,
    kind: 'path',
    name: 'Kirk Walk',
    geometry: { type: 'LineString', coordinates: [lampGreen, [-8.249, -31.669]] },
  }

  it('keeps lines and areas, and finds them by bounds alone', async () => {
    const walk = await officer('POST', '/ground-features', path)
    expect(walk.status).toBe(200)
    expect(walk.body).toMatchObject({ ...path, version: 1 })
    const water = await officer('POST', '/ground-features', {
      ...path,
      kind: 'water',
      name: null,
      geometry: {
        type: 'Polygon',
        coordinates: [
          ringAt(
            [-8.2, -31.6],
            [
              [0, 0],
              [50, 0],
              [50, 50],
              [0, 50],
            ],
          ),
        ],
      },
    })
    expect(water.status).toBe(200)

    const all = await officer('GET', '/ground-features')
    expect(all.body.features.map((f: { id: string }) => f.id).sort()).toEqual(
      [walk.body.id, water.body.id].sort(),
    )
    const near = await officer('GET', '/ground-features?bbox=-8.26,-31.68,-8.24,-31.66')
    expect(near.body.features.map((f: { properties: object }) => f.properties)).toMatchObject([
      { id: walk.body.id, kind: 'path', name: 'Kirk Walk' },
    ])
    expect((await officer('GET', '/ground-features?bbox=1,2,3')).body.refusals[0].path).toBe('bbox')
  })

  it.each([
    [
      'crosses itself',
      'geometry-crosses-itself',
      [
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ],
    ],
    [
      'has no area',
      'geometry-no-area',
      [
        [0, 0],
        [10, 10],
        [5, 5],
      ],
    ],
  ] as const)('refuses an outline that %s', async (_, code, corners) => {
    const geometry = {
      type: 'Polygon',
      coordinates: [
        ringAt(
          lampGreen,
          corners.map(([e, n]) => [e, n]),
        ),
      ],
    }
    const answer = await officer('POST', '/ground-features', { ...path, kind: 'green', geometry })
    expect(answer.status).toBe(400)
    expect(answer.body.refusals[0]).toMatchObject({ code, path: 'geometry' })
  })

  it('refuses an open ring, a line without length and a place outside the world', async () => {
    const ring = ringAt(lampGreen, [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ]).slice(0, 4)
    const refused = async (geometry: object) =>
      (await officer('POST', '/ground-features', { ...path, geometry })).body.refusals[0].code
    expect(await refused({ type: 'Polygon', coordinates: [ring] })).toBe('malformed')
    expect(await refused({ type: 'LineString', coordinates: [lampGreen, lampGreen] })).toBe(
      'geometry-no-area',
    )
    expect(await refused({ type: 'LineString', coordinates: [lampGreen, [181, 0]] })).toBe('out-of-range')
  })

  it('changes and removes a feature, raises the tiles, and refuses an old version with the stored one beside it', async () => {
    const versionOf = async () => (await officer('GET', '/tiles/version')).body.ground
    const { body: made } = await officer('POST', '/ground-features', path)
    const before = await versionOf()
    const changed = await officer('PUT', `/ground-features/${made.id}`, {
      ...path,
      name: 'Harbour Road',
      version: 1,
    })
    expect(changed.body).toMatchObject({ name: 'Harbour Road', version: 2 })
    expect(await versionOf()).not.toBe(before)
    const late = await officer('PUT', `/ground-features/${made.id}`, { ...path, version: 1 })
    expect(late.status).toBe(409)
    expect(late.body.refusals[0].code).toBe('conflict')
    expect(late.body.current).toEqual(changed.body)
    expect((await officer('DELETE', `/ground-features/${made.id}`)).status).toBe(204)
    expect((await officer('DELETE', `/ground-features/${made.id}`)).status).toBe(404)
  })

  it('lets an inspector read and not draw', async () => {
    const inspector = await harness.as('inspector')
    expect((await inspector('GET', '/ground-features')).status).toBe(200)
    expect((await inspector('POST', '/ground-features', path)).status).toBe(403)
  })
})
