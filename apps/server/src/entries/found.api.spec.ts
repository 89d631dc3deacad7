import { randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import type { FoundTreeInput } from '@underbough/model'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { batchExample, closingExample, entryExample, treeExample, visitExample } from '../testing/bodies.ts'
import { lampGreen } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

describe.each(databases)('a tree found on the way, on %s', (kind) => {
  let harness: Harness
  let inspector: Ask
  let officer: Ask
  const daySheetId = randomUUID()
  beforeAll(async () => {
    harness = await startHarness(kind)
    inspector = await harness.as('inspector')
    officer = await harness.as('officer')
    const { db } = harness.deps.database
    const organisationId = harness.organisationId
    const crewId = randomUUID()
    const planId = randomUUID()
    await db.insert(tables.crew).values({
      organisationId,
      id: crewId,
      name: 'Crew A',
      letter: 'A',
      level: 3,
      memberIds: ['inspector-1'],
      equipment: [],
      start: lampGreen,
      end: lampGreen,
      hours: Array.from({ length: 7 }, () => ({ fromMinute: 480, toMinute: 960 })),
      breakMinutes: 0,
      daysOff: [],
    })
    await db
      .insert(tables.plan)
      .values({ organisationId, id: planId, number: 1, state: 'published', asked: {}, madeBy: 'officer-1' })
    await db.insert(tables.daySheet).values({
      organisationId,
      id: daySheetId,
      planId,
      crewId,
      date: '2026-11-25',
      startMinute: 480,
      endMinute: 480,
      travelMinutes: 0,
      travelM: 0,
      serviceMinutes: 0,
      publishedAt: '2026-11-24T12:00:00Z',
    })
  })
  afterAll(() => harness?.close())

  const send = async (...entries: unknown[]) =>
    (await inspector('POST', '/entries', batchExample(entries))).body.answers
  const found = (changes: Partial<FoundTreeInput> = {}): FoundTreeInput => ({
    id: randomUUID(),
    tree: treeExample(),
    stop: null,
    fallen: null,
    ...changes,
  })
  const record = async (id: string) => (await officer('GET', `/trees/${id}`)).body

  it('is on record and on the day, and can be visited at once', async () => {
    const stopId = randomUUID()
    const body = found({ stop: { id: stopId, daySheetId, level: 2 } })
    const visit = visitExample(body.id)
    const [added, closed] = await send(
      entryExample('found-tree', body),
      entryExample('closing', closingExample(visit)),
    )
    expect([added.verdict, closed.verdict]).toEqual(['taken', 'taken'])
    const { tree, due, visits } = await record(body.id)
    expect(tree).toMatchObject({ ...body.tree, id: body.id, version: 1 })
    expect([due.treeId, visits.length]).toEqual([body.id, 1])
    const { stops } = (await inspector('GET', '/today')).body.daySheet
    expect(stops).toMatchObject([{ id: stopId, tree: { id: body.id }, doneVisitId: visit.id }])
    // At once, and not when the queue looks for stranded jobs after half a minute.
    const sentAt = performance.now()
    await harness.deps.jobs.idle()
    expect(performance.now() - sentAt).toBeLessThan(25_000)
    expect((await officer('GET', `/trees/${body.id}/exposure`)).body.exposure).not.toBeNull()
  })

  it('is gone where the whole of it lies on the ground, with what broke on record', async () => {
    const fallen = { failureId: randomUUID(), part: 'whole-tree', lies: 135.4 } as const
    const body = found({ fallen })
    const entry = entryExample('found-tree', body)
    expect((await send(entry))[0].verdict).toBe('taken')
    expect((await send(entry))[0].again).toBe(true)
    const { tree, failures } = await record(body.id)
    expect(tree).toMatchObject({ status: 'gone', goneOn: '2026-11-25' })
    expect(failures).toMatchObject([
      {
        id: fallen.failureId,
        treeId: body.id,
        part: 'whole-tree',
        on: '2026-11-25',
        place: body.tree.position,
      },
    ])
    expect(failures[0].note).toContain('135°')
  })

  it('stands as the person says where only a part of it broke', async () => {
    const body = found({
      tree: treeExample({ status: 'pole' }),
      fallen: { failureId: randomUUID(), part: 'stem', lies: null },
    })
    await send(entryExample('found-tree', body))
    expect((await record(body.id)).tree).toMatchObject({ status: 'pole', goneOn: null })
  })

  it('gets a longer tag where another tree bears its own, and says so', async () => {
    const first = found()
    const second = found({ tree: treeExample({ tag: first.tree.tag }) })
    await send(entryExample('found-tree', first))
    const [answer] = await send(entryExample('found-tree', second))
    expect(answer).toMatchObject({
      verdict: 'taken',
      refusals: [{ code: 'tag-repeated', path: 'tree.tag', value: first.tree.tag }],
      answer: { tree: { tag: `${first.tree.tag} (2)` } },
    })
  })

  it('is not on record at all where its stop cannot be put on the day', async () => {
    const body = found({ stop: { id: randomUUID(), daySheetId: randomUUID(), level: 2 } })
    const [answer] = await send(entryExample('found-tree', body))
    expect([answer.verdict, answer.refusals[0].path]).toEqual(['refused', 'daySheetId'])
    expect((await officer('GET', `/trees/${body.id}`)).status).toBe(404)
    await harness.deps.jobs.idle()
  })
})
