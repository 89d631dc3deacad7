import { describe, expect, it } from 'vitest'
import { fetchPack, type PackFile, type PackPorts, type Progress } from './fetch.ts'
import { sayFailed, sayProgress } from './words.ts'

const morning = new Date('2026-11-25T07:30:00Z')
const file = (at: string, part: PackFile['part'], treeId: string | null = null): PackFile => ({
  at,
  bytes: 100,
  part,
  treeId,
})
const files = [
  file('/api/today', 'day'),
  ...['a', 'b'].flatMap((tree) => [
    file(`/api/trees/${tree}`, 'trees', tree),
    file(`/api/trees/${tree}/probes`, 'trees', tree),
  ]),
  file('/api/tiles/trees/14/1/1.mvt', 'map'),
  file('/api/photos/p', 'photos', 'b'),
]
const many = Array.from({ length: 40 }, (_, i) => file(`/api/photos/${i}`, 'photos'))

class Silence extends Error {}
/** A device and a way to the office that a test can cut. */
function world(kept: Record<string, Date> = {}) {
  const asked: string[] = []
  let [open, most] = [0, 0]
  const refused = new Set<string>()
  const state = { silentAfter: Infinity, roomFor: Infinity }
  const ports: PackPorts = {
    keptAt: async (at) => kept[at] ?? null,
    fetch: async (at) => {
      asked.push(at)
      const silent = asked.length > state.silentAfter
      most = Math.max(most, ++open)
      await new Promise((resolve) => setTimeout(resolve, 1))
      open--
      if (silent) throw new Silence()
      if (refused.has(at)) throw new Error('gone')
      return new Blob(['x'.repeat(250)])
    },
    keep: async (at) => {
      if (Object.keys(kept).length >= state.roomFor) throw new Error('QuotaExceededError')
      kept[at] = morning
    },
    isSilence: (error) => error instanceof Silence,
    now: () => morning,
  }
  const run = (tell: (p: Progress) => void = () => {}, wanted = files) =>
    fetchPack(wanted, morning, ports, tell, new AbortController().signal)
  return { asked, kept, refused, state, run, most: () => most }
}

describe('a day fetched ahead', () => {
  it('comes whole, four at a time, and says how far it is with the sizes that came', async () => {
    const here = world()
    const said: string[] = []
    const end = await here.run((progress) => said.push(sayProgress(progress)))
    expect(here.asked).toHaveLength(files.length)
    expect(here.most()).toBe(4)
    expect(end).toMatchObject({
      gotBytes: 1750,
      allBytes: 1750,
      trees: 2,
      ofTrees: 2,
      failed: [],
      full: false,
    })
    expect(said.at(-1)).toBe('0.1 of 0.1 MB: trees 2 of 2')
  })

  it('goes on where it was cut, and fetches nothing twice', async () => {
    const here = world()
    here.state.silentAfter = 3
    const cut = await here.run()
    expect(cut.failed.length).toBe(files.length - 3)
    here.state.silentAfter = Infinity
    const before = here.asked.length
    expect((await here.run()).failed).toEqual([])
    expect(here.asked.length - before).toBe(files.length - 3)
  })

  it('gives up after a few silences instead of asking for everything', async () => {
    const here = world()
    here.state.silentAfter = 0
    expect((await here.run(() => {}, many)).failed).toHaveLength(many.length)
    expect(here.asked.length).toBeLessThan(10)
  })

  it('names what the office refused and brings the rest', async () => {
    const here = world()
    here.refused.add('/api/photos/p')
    const end = await here.run()
    expect(end.failed.map((one) => one.at)).toEqual(['/api/photos/p'])
    expect([end.trees, sayFailed(end.failed)]).toEqual([1, '1 photo'])
  })

  it('stops and says so where the device has no room', async () => {
    const here = world()
    here.state.roomFor = 2
    const end = await here.run()
    expect(end.full).toBe(true)
    expect(Object.keys(here.kept)).toHaveLength(2)
  })

  it('fetches answers anew, the map once a day, and a photo once', async () => {
    const hours = (n: number) => new Date(morning.getTime() - n * 3_600_000)
    const here = world({
      '/api/today': hours(1),
      '/api/tiles/trees/14/1/1.mvt': hours(1),
      '/api/photos/p': hours(1000),
    })
    await here.run()
    expect(here.asked).toContain('/api/today')
    expect(here.asked).not.toContain('/api/tiles/trees/14/1/1.mvt')
    expect(here.asked).not.toContain('/api/photos/p')
    const next = world({ '/api/tiles/trees/14/1/1.mvt': hours(20) })
    await next.run()
    expect(next.asked).toContain('/api/tiles/trees/14/1/1.mvt')
  })

  it('says what did not come', () => {
    expect(sayFailed([file('1', 'photos'), file('2', 'photos'), file('3', 'map')])).toBe(
      '1 piece of the map and 2 photos',
    )
  })
})
