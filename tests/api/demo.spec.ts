import { demoPassword, openDatabase, tables } from '@underbough/db'
import { today } from '@underbough/model'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { createApp } from '../../apps/server/src/app.ts'
import { ensureDemo } from '../../apps/server/src/demo.ts'
import { closeDeps } from '../../apps/server/src/deps.ts'
import type { Deps } from '../../apps/server/src/http/context.ts'
import { createJobs } from '../../apps/server/src/jobs/jobs.ts'
import { works } from '../../apps/server/src/jobs/works.ts'
import { createAuth } from '../../apps/server/src/session/auth.ts'

/** The day on which the demo is looked at. */
const now = new Date('2026-11-25T12:00:00Z')
const day = today('Atlantic/St_Helena', now)

interface Line {
  status: string
  risk: string | null
  overdueDays: number
  due: { on: string; reason: string; kind: string } | null
}

describe('the demo island as the office finds it, on the embedded database', () => {
  let deps: Deps
  // biome-ignore lint/suspicious/noExplicitAny: a test looks into whatever came back
  let ask: (method: string, path: string, body?: unknown) => Promise<any>
  let trees: Line[]
  beforeAll(async () => {
    const database = await openDatabase({})
    const auth = createAuth(database, 'a secret for tests only, thirty-two letters', 'http://127.0.0.1')
    deps = { database, auth, now: () => now } as Deps
    // Who is under each tree is not asked here, and takes longest.
    deps.jobs = await createJobs(database, { ...works(deps), exposure: async () => undefined })
    const said = process.env.UNDERBOUGH_DEMO
    process.env.UNDERBOUGH_DEMO = 'yes'
    expect((await ensureDemo(deps))?.trees).toBeGreaterThan(500)
    if (said === undefined) delete process.env.UNDERBOUGH_DEMO
    else process.env.UNDERBOUGH_DEMO = said
    const app = createApp(deps)
    let cookie = ''
    ask = async (method, path, body) => {
      const response = await app.request(`/api${path}`, {
        method,
        headers: { host: '127.0.0.1', cookie, ...(body ? { 'content-type': 'application/json' } : {}) },
        body: body === undefined ? undefined : JSON.stringify(body),
      })
      if (path === '/session') cookie = response.headers.getSetCookie()[0]!.split(';')[0]!
      const read = await response.json()
      expect(response.status, JSON.stringify(read)).toBe(200)
      return read
    }
    await ask('POST', '/session', { email: 'e.pell@portmaud.example', password: demoPassword })
    trees = []
    for (let total = 1; trees.length < total; ) {
      const page = await ask('GET', `/trees?limit=2000&offset=${trees.length}`)
      trees.push(...page.trees)
      total = page.total
    }
  })
  afterAll(() => deps && closeDeps(deps))

  it('has a date and a reason for every standing tree, and none for what is gone', () => {
    const standing = trees.filter(({ status }) => status === 'standing')
    expect(standing.length).toBeGreaterThan(500)
    for (const { due } of standing) {
      expect(due?.on).toMatch(/^\d{4}-\d\d-\d\d$/)
      expect(due!.reason.length).toBeGreaterThan(10)
    }
    for (const tree of trees) if (tree.status === 'gone') expect(tree.due).toBeNull()
  })

  it('has trees to worry about: some extreme, several high, some overdue, and not all of them', () => {
    const count = (risk: string) => trees.filter((tree) => tree.risk === risk).length
    expect(count('extreme')).toBeGreaterThanOrEqual(1)
    expect(count('high')).toBeGreaterThanOrEqual(8)
    const late = trees.filter((tree) => tree.overdueDays > 0).length
    expect(late).toBeGreaterThan(0)
    expect(late).toBeLessThan(trees.length / 3)
  })

  it('plans two crews over ten days for at least a fifth less than going by urgency, then to the nearest', async () => {
    const { crews } = await ask('GET', '/crews')
    // The demo sends a first round of all three crews; it is taken back, so that the whole of what is due is planned.
    await deps.database.db.update(tables.daySheet).set({ publishedAt: null })
    const asked = {
      from: day,
      days: 10,
      crewIds: crews.slice(0, 2).map((c: { id: string }) => c.id),
      iterations: 30_000,
    }
    const { planId } = await ask('POST', '/plans', asked)
    await deps.jobs.idle()
    const { plan, daySheets, unplaced } = await ask('GET', `/plans/${planId}`)
    const stops = daySheets.reduce((sum: number, s: { stops: unknown[] }) => sum + s.stops.length, 0)
    const figures = JSON.stringify({
      saved: plan.savedShare,
      cost: plan.cost,
      peer: plan.peerCost,
      stops,
      left: unplaced.length,
    })
    if (process.env.UNDERBOUGH_FIGURES) console.log(figures)
    expect(stops, figures).toBeGreaterThan(20)
    expect(plan.savedShare, figures).toBeGreaterThanOrEqual(0.2)
  })
})
