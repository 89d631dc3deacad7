import { randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import { planeAt } from '@underbough/model'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, point, storeTree, zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

// The harness lives on Wednesday 25 November 2026, 12:00 at the site (UTC).
const [TODAY, FRIDAY] = ['2026-11-25', '2026-11-27']
const plane = planeAt(...lampGreen)
const at = (eastM: number) => plane.toDegrees(eastM, 0)

describe.each(databases)('days to take along, on %s', (kind) => {
  let harness: Harness
  let inspector: Ask
  let manager: Ask
  let trees: string[]
  const [original, screen, single] = [randomUUID(), randomUUID(), randomUUID()]
  beforeAll(async () => {
    harness = await startHarness(kind)
    inspector = await harness.as('inspector')
    manager = await harness.as('manager')
    const { db } = harness.deps.database
    const organisationId = harness.organisationId
    const crewId = randomUUID()
    await db.insert(tables.crew).values({
      organisationId,
      id: crewId,
      name: 'Crew A',
      letter: 'A',
      level: 3,
      memberIds: ['inspector-1'],
      equipment: [],
      start: at(0),
      end: at(0),
      hours: Array.from({ length: 7 }, () => ({ fromMinute: 480, toMinute: 960 })),
      breakMinutes: 0,
      daysOff: [],
    })
    trees = []
    for (let i = 0; i < 3; i++)
      trees.push(
        await storeTree(harness.deps.database, organisationId, {
          tag: `T${i}`,
          position: point(at(100 * i)),
        }),
      )
    const planId = randomUUID()
    await db
      .insert(tables.plan)
      .values({ organisationId, id: planId, number: 1, state: 'published', asked: {}, madeBy: 'officer-1' })
    const sheet = async (date: string, sent: boolean, treeIds: string[]) => {
      const id = randomUUID()
      const zero = { startMinute: 480, endMinute: 600, travelMinutes: 0, travelM: 0, serviceMinutes: 0 }
      await db.insert(tables.daySheet).values({
        organisationId,
        id,
        planId,
        crewId,
        date,
        ...zero,
        publishedAt: sent ? '2026-11-24T09:00:00Z' : null,
      })
      const times = { arriveMinute: 0, startMinute: 0, leaveMinute: 0, travelM: 0 }
      for (const [i, treeId] of treeIds.entries())
        await db.insert(tables.stop).values({
          organisationId,
          id: randomUUID(),
          daySheetId: id,
          treeId,
          order: i + 1,
          level: 2,
          ...times,
        })
    }
    await sheet(TODAY, true, trees.slice(0, 2))
    await sheet('2026-11-26', false, trees.slice(2))
    await sheet(FRIDAY, true, trees.slice(2))
    const photo = {
      organisationId,
      ownerKind: 'tree' as const,
      ownerId: trees[0]!,
      mediaType: 'image/jpeg',
      caption: '',
      takenAt: '2026-11-01T09:00:00Z',
    }
    await db.insert(tables.photo).values([
      { ...photo, id: original, sha256: '0'.repeat(64), bytes: 5_000_000 },
      { ...photo, id: screen, sha256: '1'.repeat(64), bytes: 90_000, copyOf: original, copyKind: 'screen' },
      { ...photo, id: single, ownerId: trees[2]!, sha256: '2'.repeat(64), bytes: 70_000 },
    ])
  })
  afterAll(() => harness?.close())

  it('lists the issued days of the person’s own crew, with what each takes to keep', async () => {
    const { days } = (await inspector('GET', '/days')).body
    expect(days.map((day: { date: string; trees: number }) => [day.date, day.trees])).toEqual([
      [TODAY, 2],
      [FRIDAY, 1],
    ])
    expect(days[0].bytes).toBeGreaterThan(90_000)
    expect((await manager('GET', '/days')).body.days).toEqual([])
    expect((await inspector('GET', `/days?from=${FRIDAY}&days=1`)).body.days).toHaveLength(1)
  })

  it('names what a phone asks for on that day, and every address answers that person', async () => {
    const { body: pack } = await inspector('GET', `/days/${TODAY}/pack`)
    const named: string[] = pack.files.map((file: { at: string }) => file.at)
    expect(new Set(named).size).toBe(named.length)
    expect(pack.bytes).toBe(pack.files.reduce((sum: number, file: { bytes: number }) => sum + file.bytes, 0))
    for (const address of [`/api/today?date=${TODAY}`, '/api/map/view', '/api/tiles/version', '/api/zones'])
      expect(named).toContain(address)
    for (const treeId of trees.slice(0, 2))
      for (const part of ['', '/exposure', '/probes']) expect(named).toContain(`/api/trees/${treeId}${part}`)
    expect(named.some((address) => address.includes(trees[2]!))).toBe(false)
    for (const address of named.filter((one) => !one.includes('/photos/')))
      expect((await inspector('GET', address.slice(4))).status, address).toBe(200)
  })

  it('takes along the trees within 300 m of the way, to be found by tag or species, but none that is gone', async () => {
    const store = (tag: string, eastM: number, changes = {}) =>
      storeTree(harness.deps.database, harness.organisationId, {
        tag,
        position: point(at(eastM)),
        ...changes,
      })
    await store('near', 395)
    await store('far', 405)
    await store('gone', 50, { status: 'gone' })
    const tagsOn = async (ask: Ask) =>
      (await ask('GET', `/days/${TODAY}/trees`)).body.trees.map((tree: { tag: string }) => tree.tag)
    // The way runs from 0 to the stop at 100 m east and back.
    expect(await tagsOn(inspector)).toEqual(['T0', 'T1', 'T2', 'near'])
    expect(await tagsOn(manager)).toEqual([])
    const { body: pack } = await inspector('GET', `/days/${TODAY}/pack`)
    expect(pack.files.map((file: { at: string }) => file.at)).toContain(`/api/days/${TODAY}/trees`)
  })

  it('takes along the zones that trees of the day bear upon, so that they can be walked over', async () => {
    const officer = await harness.as('officer')
    const make = async (name: string) => (await officer('POST', '/zones', zoneExample({ name }))).body.id
    const zoneIds: string[] = [await make('Over the day’s tree'), await make('Over another’s')]
    await harness.deps.jobs.idle()
    const { db } = harness.deps.database
    await db.delete(tables.exposureZone)
    for (const [i, treeId] of [trees[0]!, trees[2]!].entries())
      await db.insert(tables.exposureZone).values({
        organisationId: harness.organisationId,
        treeId,
        zoneId: zoneIds[i]!,
        people: 1,
        peopleLeast: 1,
        peopleMost: 1,
        peopleStem: 0,
        peopleCrown: 1,
        pTouch: 1,
        pTouchLeast: 1,
        pTouchMost: 1,
        pAny: 0.5,
        touching: [],
      })
    const { body: pack } = await inspector('GET', `/days/${TODAY}/pack`)
    const named = pack.files.map((file: { at: string }) => file.at)
    expect(named).toContain(`/api/zones/${zoneIds[0]}`)
    expect(named).not.toContain(`/api/zones/${zoneIds[1]}`)
  })

  it('takes photos along as the client shows them, by the size of the smaller copy', async () => {
    const photosOn = async (date: string) =>
      (await inspector('GET', `/days/${date}/pack`)).body.files
        .filter((file: { part: string }) => file.part === 'photos')
        .map((file: { at: string; bytes: number }) => [file.at, file.bytes])
    expect(await photosOn(TODAY)).toEqual([[`/api/photos/${original}?copy=screen`, 90_000]])
    expect(await photosOn(FRIDAY)).toEqual([[`/api/photos/${single}?copy=screen`, 70_000]])
  })

  it('says that nothing changed by its tag, and another tag once a tree is put on the day', async () => {
    const first = await inspector('GET', `/days/${TODAY}/pack`)
    expect(first.headers.get('etag')).toBe(`"${first.body.tag}"`)
    const { db } = harness.deps.database
    const sheet = (await db.select().from(tables.daySheet)).find((one) => one.date === TODAY)!
    const known = (await db.select().from(tables.stop)).find((one) => one.daySheetId === sheet.id)
    await db.insert(tables.stop).values({ ...known!, id: randomUUID(), treeId: trees[2]!, order: 9 })
    const days = [TODAY, '2026-11-26', FRIDAY]
    const tags = await Promise.all(
      days.map(async (date) => (await inspector('GET', `/days/${date}/pack`)).body.tag),
    )
    expect(tags[0]).not.toBe(first.body.tag)
    expect(tags[1]).toBe('none')
  })

  it('has nothing for whom no day was sent', async () => {
    expect((await manager('GET', `/days/${TODAY}/pack`)).body).toMatchObject({ trees: 0, files: [] })
    expect((await inspector('GET', '/days/someday/pack')).status).toBe(400)
  })
})
