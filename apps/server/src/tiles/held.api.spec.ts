import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { createApp } from '../app.ts'
import { lampGreen, point, ringAt, storeTree, zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'
import { tileUnits } from './grid.ts'

describe.each(databases)('tiles that a browser holds, on %s', (kind) => {
  let harness: Harness
  let ask: Ask
  let cookie: string
  beforeAll(async () => {
    harness = await startHarness(kind)
    ask = await harness.as('officer')
    const login = await harness.stranger('POST', '/session', {
      email: 'officer@portmaud.example',
      password: 'a long enough word',
    })
    cookie = login.headers.getSetCookie()[0]!.split(';')[0]!
  })
  afterAll(() => harness?.close())

  const addressOf = (layer: string, z: number, [lon, lat]: readonly [number, number], query = '') => {
    const [x, y] = tileUnits({ z: 0, x: 0, y: 0 }, [lon, lat]).map((unit) =>
      Math.floor((unit / 4096) * 2 ** z),
    )
    return `/api/tiles/${layer}/${z}/${x}/${y}.mvt${query}`
  }
  const request = (address: string, known?: string, now?: Date) =>
    createApp(now ? { ...harness.deps, now: () => now } : harness.deps).request(address, {
      headers: { cookie, host: '127.0.0.1', ...(known ? { 'if-none-match': known } : {}) },
    })
  const tagOf = async (address: string) => (await request(address)).headers.get('etag')!
  const far: [number, number] = [lampGreen[0] + 0.5, lampGreen[1]]

  // RFC 9110, sections 8.8.3.2 and 13.1.2.
  it('compares weakly, in a list, and takes a star for any', async () => {
    const address = addressOf('trees', 14, lampGreen)
    const tag = await tagOf(address)
    expect(tag).toMatch(/^W\/"[^"]+"$/)
    for (const known of [tag, tag.slice(2), `"other", ${tag}`, `W/"a,b",${tag.slice(2)} , "c"`, '*'])
      expect([known, (await request(address, known)).status]).toEqual([known, 304])
    for (const known of ['"other"', `W/"${tag}`, tag.slice(3, -1), `"${tag.slice(3, -2)}"`])
      expect([known, (await request(address, known)).status]).toEqual([known, 200])
  })

  it('changes what lies around a change and nothing else', async () => {
    const { database } = harness.deps
    const treeId = await storeTree(database, harness.organisationId, { position: point(lampGreen) })
    await storeTree(database, harness.organisationId, { position: point(far) })
    const watch = async () => ({
      treesHere: await tagOf(addressOf('trees', 16, lampGreen)),
      treesAbove: await tagOf(addressOf('trees', 6, lampGreen)),
      treesFar: await tagOf(addressOf('trees', 16, far)),
      groundHere: await tagOf(addressOf('ground', 15, lampGreen)),
      groundAbove: await tagOf(addressOf('ground', 8, lampGreen)),
      groundFar: await tagOf(addressOf('ground', 15, far)),
    })
    type Tags = Awaited<ReturnType<typeof watch>>
    const differ = (a: Tags, b: Tags) =>
      Object.keys(a).filter((key) => a[key as keyof Tags] !== b[key as keyof Tags])
    let before = await watch()
    const changes = async () => {
      const after = await watch()
      const names = differ(before, after)
      before = after
      return names
    }
    const { body } = await ask('GET', `/trees/${treeId}`)
    const { createdAt: _c, updatedAt: _u, sourceKey: _s, ...record } = body.tree
    expect((await ask('PUT', `/trees/${treeId}`, { ...record, status: 'pole' })).status).toBe(200)
    await harness.deps.jobs.idle()
    expect(await changes()).toEqual(['treesHere', 'treesAbove'])
    // What tiles do not show changes none of them: a note, and who is under the trees.
    expect(
      (await ask('PUT', `/trees/${treeId}`, { ...record, version: 2, status: 'pole', note: 'By the gate' }))
        .status,
    ).toBe(200)
    await ask('POST', '/exposure/recompute', {})
    await harness.deps.jobs.idle()
    expect(await changes()).toEqual([])
    // Beyond the reach of any tree, so that no date changes.
    const corner: [number, number] = [lampGreen[0] + 0.003, lampGreen[1]]
    const ring = ringAt(corner, [
      [0, 0],
      [20, 0],
      [20, 10],
    ])
    const zone = zoneExample({ geometry: { type: 'Polygon', coordinates: [ring] } })
    expect((await ask('POST', '/zones', zone)).status).toBe(200)
    await harness.deps.jobs.idle()
    expect(await changes()).toEqual(['groundHere', 'groundAbove'])
  })

  it('changes at midnight of the organisation, and with what it is narrowed to', async () => {
    const address = addressOf('trees', 14, lampGreen)
    const tag = await tagOf(address)
    expect((await request(address, tag, new Date('2026-11-26T12:00:00Z'))).status).toBe(200)
    const [one, same, other] = await Promise.all(
      ['?risk=high,low', '?risk=low,high,high', '?risk=high'].map((query) =>
        tagOf(addressOf('trees', 14, lampGreen, query)),
      ),
    )
    expect(one).toBe(same)
    expect(new Set([tag, one, other]).size).toBe(3)
  })
})
