import { tables } from '@underbough/db'
import { eq, sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { databases, type Harness, startHarness } from '../testing/harness.ts'
import { createJobs, type Jobs, type JobWork } from './jobs.ts'

const { job } = tables

describe.each(databases)('the queue, on %s', (kind) => {
  let harness: Harness
  let jobs: Jobs
  let release = () => {}
  const ran: string[] = []
  const works: Record<string, JobWork> = {
    async count({ to }: { to: number }, context) {
      for (let i = 1; i <= to; i++) await context.progress(i, to, 'Counting')
      ran.push('count')
      return `Counted to ${to}.`
    },
    async wait(_: unknown, context) {
      await context.progress(0, 1)
      await new Promise<void>((resolve) => {
        release = resolve
      })
      ran.push('wait')
      await context.progress(1, 1)
      return ''
    },
    async break() {
      throw new Error('The saw is blunt.')
    },
  } as Record<string, JobWork>
  beforeAll(async () => {
    harness = await startHarness(kind)
    await harness.deps.jobs.close()
    jobs = await createJobs(harness.deps.database, works)
    harness.deps.jobs = jobs
  })
  afterAll(() => harness?.close())
  const start = (name: string, input: object = {}) =>
    jobs.start(harness.organisationId, name, input, 'officer-1')
  const look = async (id: string) => (await (await harness.as('client'))('GET', `/jobs/${id}`)).body
  const until = async (id: string, state: string) => {
    while ((await look(id)).state !== state) await new Promise((resolve) => setTimeout(resolve, 30))
  }

  it('says how far a job came and how it ended', async () => {
    const id = await start('count', { to: 7 })
    await jobs.idle()
    const done = await look(id)
    expect(done).toMatchObject({ state: 'done', done: 7, total: 7, message: 'Counted to 7.' })
    expect(Date.parse(done.endedAt)).toBeGreaterThanOrEqual(Date.parse(done.startedAt))
    const broken = await start('break')
    await jobs.idle()
    expect(await look(broken)).toMatchObject({ state: 'failed', message: 'The saw is blunt.' })
    expect((await (await harness.as('officer'))('GET', '/jobs')).body.jobs).toEqual([])
  })

  it('stores a change and its job together, or neither', async () => {
    const { database } = harness.deps
    const before = await database.db.$count(job)
    const raise = (then: () => void) =>
      jobs.startWith(
        harness.organisationId,
        'count',
        { to: 1 },
        'officer-1',
        harness.organisationId,
        async (tx) => {
          await tx.update(tables.organisation).set({ name: 'Renamed' })
          then()
        },
      )
    const refuse = () => {
      throw new Error('Not this one.')
    }
    await expect(raise(refuse)).rejects.toThrow('Not this one.')
    const [kept] = await database.db.select().from(tables.organisation)
    expect([kept!.name, await database.db.$count(job)]).toEqual(['Port Maud', before])
    const id = await raise(() => {})
    await jobs.idle()
    expect((await look(id)).state).toBe('done')
    await database.db.update(tables.organisation).set({ name: 'Port Maud' })
  })

  it('does one at a time, and stops one that waits or works', async () => {
    ran.length = 0
    const [first, second] = [await start('wait'), await start('count', { to: 1 })]
    await until(first, 'working')
    expect((await look(second)).state).toBe('waiting')
    const officer = await harness.as('officer')
    expect((await officer('GET', '/jobs')).body.jobs).toHaveLength(2)
    expect((await (await harness.as('inspector'))('POST', `/jobs/${second}/cancel`)).status).toBe(403)
    for (const id of [second, first]) expect((await officer('POST', `/jobs/${id}/cancel`)).status).toBe(204)
    release()
    await start('count', { to: 2 })
    await jobs.idle()
    // The first was begun and ran on to where it asks; the second never began.
    expect(ran).toEqual(['wait', 'count'])
    expect((await look(first)).state).toBe('cancelled')
    expect((await look(second)).state).toBe('cancelled')
  })

  it('takes up what another process left behind: at work with an old mark, or stored and never queued', async () => {
    ran.length = 0
    const { db } = harness.deps.database
    const left = await start('count', { to: 3 })
    await jobs.idle()
    await jobs.close()
    const old = sql`now() - interval '1 minute'` as never
    await db.update(job).set({ state: 'working', markedAt: old, endedAt: null }).where(eq(job.id, left))
    const unqueued = crypto.randomUUID()
    await db.insert(job).values({
      organisationId: harness.organisationId,
      id: unqueued,
      kind: 'count',
      input: { to: 4 },
      state: 'waiting',
      startedAt: old,
      startedBy: 'officer-1',
    })
    jobs = await createJobs(harness.deps.database, works)
    harness.deps.jobs = jobs
    await jobs.idle()
    expect(await look(left)).toMatchObject({ state: 'done', message: 'Counted to 3.' })
    expect(await look(unqueued)).toMatchObject({ state: 'done', message: 'Counted to 4.' })
    expect(ran).toEqual(['count', 'count', 'count'])
  })
})
