import 'fake-indexeddb/auto'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'

/** The browser's Cache Storage as far as it is used here (W3C Service Workers, section 5.4: match, put and delete by URL). */
class FakeCache {
  kept = new Map<string, Response>()
  match = async (name: string) => this.kept.get(name)?.clone()
  put = async (name: string, response: Response) => void this.kept.set(name, response)
  delete = async (name: string) => this.kept.delete(name)
}
const all = new Map<string, FakeCache>()
vi.stubGlobal('caches', {
  open: async (name: string) => {
    const cache = all.get(name) ?? new FakeCache()
    all.set(name, cache)
    return cache
  },
  delete: async (name: string) => all.delete(name),
})
vi.stubGlobal('location', new URL('https://trees.example/'))

const { api } = await import('./client.ts')
const { sayTimeZone, SLOW_MS } = await import('./kept.ts')
const { cacheOf, keep, keptUnder, sayWho } = await import('../pack/cache.ts')
const { whoIsHere, remember, signOutHere } = await import('./here.ts')
const { device } = await import('../keep/device.ts')

const json = (body: unknown, status = 200) =>
  new Response(JSON.stringify(body), { status, headers: { 'content-type': 'application/json' } })
const office = vi.fn<(url: string, init?: RequestInit) => Promise<Response>>()
vi.stubGlobal('fetch', office)
const me = (personId: string) =>
  ({ personId, name: personId, organisation: { timeZone: 'Atlantic/St_Helena' } }) as never

beforeEach(async () => {
  all.clear()
  office.mockReset()
  await device.remembered.clear()
  sayTimeZone('Atlantic/St_Helena')
  await sayWho('sand')
  await keep(
    (await cacheOf('sand')) as Cache,
    '/api/trees/1',
    JSON.stringify({ tag: 'kept' }),
    'application/json',
  )
})
afterEach(() => vi.useRealTimers())
const silent = () => office.mockRejectedValue(new TypeError('Failed to fetch'))

describe('what this device keeps of the office', () => {
  it('answers where the office is silent, and is renewed by the office’s next answer', async () => {
    silent()
    expect(await api.get('/trees/1')).toEqual({ tag: 'kept' })
    office.mockResolvedValue(json({ tag: 'new' }))
    expect(await api.get('/trees/1')).toEqual({ tag: 'new' })
    silent()
    await vi.waitFor(async () => expect(await api.get('/trees/1')).toEqual({ tag: 'new' }))
  })

  it('answers after four seconds of waiting', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] })
    office.mockReturnValue(new Promise(() => {}))
    const asked = api.get('/trees/1')
    let answered = false
    void asked.then(() => {
      answered = true
    })
    await vi.advanceTimersByTimeAsync(SLOW_MS - 100)
    expect(answered).toBe(false)
    await vi.advanceTimersByTimeAsync(200)
    expect(await asked).toEqual({ tag: 'kept' })
  })

  it('takes a page put in between for silence, and a refusal for an answer', async () => {
    office.mockResolvedValue(
      new Response('<html>Welcome to the guest network</html>', { headers: { 'content-type': 'text/html' } }),
    )
    expect(await api.get('/trees/1')).toEqual({ tag: 'kept' })
    office.mockResolvedValue(json({ refusals: [{ code: 'unknown', path: '' }] }, 404))
    await expect(api.get('/trees/1')).rejects.toMatchObject({ status: 404 })
  })

  it('is one person’s, and nothing that was not fetched ahead', async () => {
    silent()
    await expect(api.get('/trees/2')).rejects.toMatchObject({ status: 0 })
    await sayWho('orrin')
    await expect(api.get('/trees/1')).rejects.toMatchObject({ status: 0 })
  })

  it('gives today under its date, and not yesterday’s day', async () => {
    vi.useFakeTimers({ toFake: ['Date'], now: new Date('2026-11-26T07:00:00Z') })
    const cache = (await cacheOf('sand')) as Cache
    await keep(
      cache,
      '/api/today?date=2026-11-25',
      JSON.stringify({ date: '2026-11-25' }),
      'application/json',
    )
    silent()
    await expect(api.get('/today')).rejects.toMatchObject({ status: 0 })
    await keep(
      cache,
      '/api/today?date=2026-11-26',
      JSON.stringify({ date: '2026-11-26' }),
      'application/json',
    )
    expect(await api.get('/today')).toEqual({ date: '2026-11-26' })
  })

  it('keeps one of each tile, and knows whether it is of the version asked for', async () => {
    const cache = (await cacheOf('sand')) as Cache
    const tile = '/api/tiles/trees/14/7815/9705.mvt'
    await keep(cache, `${tile}?v=7-a`, 'old', 'application/protobuf')
    await keep(cache, `${tile}?v=8-a`, 'new', 'application/protobuf')
    expect((await keptUnder(cache, `${tile}?v=8-a`))?.exact).toBe(true)
    const other = await keptUnder(cache, `${tile}?v=9-a`)
    expect([other?.exact, await other?.response.text()]).toEqual([false, 'new'])
  })
})

describe('who is at this device', () => {
  it('is the last one signed in, where the office is silent', async () => {
    office.mockResolvedValue(json({ me: me('sand') }))
    expect(await whoIsHere()).toMatchObject({ standing: 'signed-in' })
    silent()
    expect(await whoIsHere()).toMatchObject({ me: { personId: 'sand' }, standing: 'unreached' })
  })

  it('stays usable when the office asks to sign in, with what is kept', async () => {
    await remember(me('sand'))
    office.mockResolvedValue(json({ refusals: [{ code: 'signed-out', path: '' }] }, 401))
    expect(await whoIsHere()).toMatchObject({ me: { personId: 'sand' }, standing: 'signed-out' })
    expect(await api.get('/trees/1')).toEqual({ tag: 'kept' })
  })

  it('is nobody on a device that knows nobody', async () => {
    silent()
    await expect(whoIsHere()).rejects.toMatchObject({ status: 0 })
  })

  it('is forgotten by signing out, with what was fetched; what waits stays', async () => {
    await remember(me('sand'))
    await device.entries.add({ key: crypto.randomUUID(), authorId: 'sand', state: 'waiting' } as never)
    office.mockResolvedValue(new Response(null, { status: 204 }))
    await signOutHere('sand')
    silent()
    await expect(whoIsHere()).rejects.toMatchObject({ status: 0 })
    await expect(api.get('/trees/1')).rejects.toMatchObject({ status: 0 })
    expect(await device.entries.count()).toBe(1)
  })

  it('lets nobody in before a signing out without signal has reached the office', async () => {
    await remember(me('sand'))
    silent()
    await signOutHere('sand')
    await expect(whoIsHere()).rejects.toMatchObject({ status: 0 })
    const asked: string[] = []
    office.mockImplementation(async (url, init) => {
      asked.push(`${init?.method} ${url}`)
      return init?.method === 'DELETE'
        ? new Response(null, { status: 204 })
        : json({ refusals: [{ code: 'signed-out', path: '' }] }, 401)
    })
    await expect(whoIsHere()).rejects.toMatchObject({ status: 401 })
    expect(asked).toEqual(['DELETE /api/session', 'GET /api/session'])
  })

  it('clears what another person fetched once somebody else signs in', async () => {
    await remember(me('sand'))
    await remember(me('orrin'))
    await sayWho('sand')
    silent()
    await expect(api.get('/trees/1')).rejects.toMatchObject({ status: 0 })
  })
})
