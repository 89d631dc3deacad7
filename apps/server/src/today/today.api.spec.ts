import { randomUUID } from 'node:crypto'
import { type Session, tables } from '@underbough/db'
import { planeAt } from '@underbough/model'
import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import type { Handle, When } from '../entries/handle.ts'
import type { Person } from '../http/context.ts'
import { Refused } from '../http/problem.ts'
import { lampGreen, point, storeTree } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'
import { dayOrder, foundBecause, foundStop, handOver, stopAdded } from './day.ts'

// The harness lives on Wednesday 25 November 2026, 12:00 at the site (UTC).
const TODAY = '2026-11-25'
const before: When = {
  madeAt: '2026-11-24T20:00:00Z',
  clockOffsetMs: 0,
  receivedAt: '2026-11-25T12:00:00Z',
}
const plane = planeAt(...lampGreen)
const at = (eastM: number) => plane.toDegrees(eastM, 0)
/** Minutes of a way: 30 % more than the straight line at 1.25 m/s, or by car at 6 m/s and a minute to park: the assumptions of every plan, in the README. */
const way = (metres: number) => Math.min((metres * 1.3) / 1.25, (metres * 1.3) / 6 + 60) / 60

describe.each(databases)('the day under way, on %s', (kind) => {
  let harness: Harness
  let org: string
  let inspectorAsks: Ask
  const crews = { a: randomUUID(), b: randomUUID(), c: randomUUID() }
  let [sheetA, sheetB, planId] = ['', '', '']
  let trees: string[]
  let stops: string[]
  const person = (role: Person['role'], personId = `${role}-1`) =>
    ({
      personId,
      role,
      organisation: { id: org, timeZone: 'Atlantic/St_Helena', hemisphere: 'south' },
    }) as Person
  const run = <K extends Parameters<typeof call>[0]>(
    handle: K,
    body: unknown,
    who = person('inspector'),
    when = before,
  ) => call(handle, body, who, when)
  /** As the office calls it: bound to the transaction in which the entry's key is stored. */
  // biome-ignore lint/suspicious/noExplicitAny: a test looks into whatever came back
  const call = (handle: Handle<any>, body: unknown, who: Person, when: When): Promise<any> =>
    harness.deps.database.transaction((tx) => {
      const database = { ...harness.deps.database, transaction: (work: (tx: Session) => unknown) => work(tx) }
      return handle({ ...harness.deps, database } as never, who, body as never, when)
    })
  const refusal = async (asked: Promise<unknown>) =>
    asked.then(
      () => 'taken',
      (error) =>
        error instanceof Refused ? `${error.refusals[0]!.code} ${error.refusals[0]!.path}` : String(error),
    )
  const day = async (crew: string) => (await (await harness.as('officer'))('GET', `/today?crew=${crew}`)).body
  const order = async (crew: string) =>
    ((await day(crew)).daySheet?.stops ?? []).map((stop: { id: string }) => stops.indexOf(stop.id))

  beforeAll(async () => {
    harness = await startHarness(kind)
    org = harness.organisationId
    inspectorAsks = await harness.as('inspector')
    const { db } = harness.deps.database
    const hours = Array.from({ length: 7 }, () => ({ fromMinute: 480, toMinute: 960 }))
    const crew = {
      organisationId: org,
      equipment: [],
      start: at(0),
      end: at(0),
      hours,
      breakMinutes: 0,
      daysOff: [],
    }
    await db.insert(tables.crew).values([
      { ...crew, id: crews.a, name: 'Crew A', letter: 'A', level: 3, memberIds: ['inspector-1'] },
      { ...crew, id: crews.b, name: 'Crew B', letter: 'B', level: 2, memberIds: ['manager-1'] },
      { ...crew, id: crews.c, name: 'Crew C', letter: 'C', level: 3, memberIds: [] },
    ])
    trees = []
    for (let i = 0; i < 6; i++)
      trees.push(
        await storeTree(harness.deps.database, org, { tag: `T${i}`, position: point(at(100 * (i + 1))) }),
      )
  })
  afterAll(() => harness?.close())

  beforeEach(async () => {
    const { db } = harness.deps.database
    await db.delete(tables.plan)
    planId = randomUUID()
    sheetA = randomUUID()
    sheetB = randomUUID()
    stops = trees.map(() => randomUUID())
    await db.insert(tables.plan).values({
      organisationId: org,
      id: planId,
      number: 1,
      state: 'published',
      asked: {},
      madeBy: 'officer-1',
    })
    const sheet = {
      organisationId: org,
      planId,
      date: TODAY,
      startMinute: 480,
      endMinute: 600,
      travelMinutes: 0,
      travelM: 0,
      serviceMinutes: 0,
      publishedAt: '2026-11-24T12:00:00Z',
    }
    await db.insert(tables.daySheet).values([
      { ...sheet, id: sheetA, crewId: crews.a },
      { ...sheet, id: sheetB, crewId: crews.b },
    ])
    // Four trees along a line for A, the first of them visited; one for B.
    await db.insert(tables.stop).values(
      [0, 1, 2, 3, 4].map((i) => ({
        organisationId: org,
        id: stops[i]!,
        daySheetId: i < 4 ? sheetA : sheetB,
        treeId: trees[i]!,
        order: i < 4 ? i + 1 : 1,
        level: 2 as const,
        arriveMinute: 490 + 20 * i,
        startMinute: 490 + 20 * i,
        leaveMinute: 502 + 20 * i,
        travelM: 130,
        doneVisitId: i === 0 ? randomUUID() : null,
      })),
    )
  })

  it('takes the crew’s order, reckons the clock anew, and names what has an end', async () => {
    const body = {
      daySheetId: sheetA,
      stopIds: [stops[3], stops[0], stops[1]],
      because: 'The gate opens at ten',
    }
    expect(await run(dayOrder, body)).toEqual({ notMoved: [{ stopId: stops[0], tag: 'T0' }], notHere: [] })
    expect(await order(crews.a)).toEqual([0, 3, 1, 2])
    const { daySheet } = await day(crews.a)
    const [first, second, third] = daySheet.stops
    // The visited stop keeps its times; the rest go on from its place 100 m out at 8:22, to the trees 400 m and 200 m out.
    expect(first).toMatchObject({ arriveMinute: 490, leaveMinute: 502 })
    expect(second.arriveMinute).toBeCloseTo(502 + way(300), 1)
    expect(second.travelM).toBeCloseTo(390, -1)
    expect(third.arriveMinute).toBeCloseTo(second.arriveMinute + 12 + way(200), 1)
    expect(daySheet.endMinute).toBeCloseTo(third.arriveMinute + 24 + way(100) + way(300), -0.5)
    // Sent again, nothing moves.
    await run(dayOrder, body)
    expect((await day(crews.a)).daySheet).toEqual(daySheet)
  })

  it('goes on from the clock at which the order was made, on the day itself', async () => {
    const made = { ...before, madeAt: '2026-11-25T09:00:00Z', clockOffsetMs: 30 * 60_000 }
    await run(dayOrder, { daySheetId: sheetA, stopIds: [stops[1]], because: '' }, person('inspector'), made)
    const { daySheet } = await day(crews.a)
    expect(daySheet.stops[1].arriveMinute).toBeCloseTo(570 + way(100), 1)
  })

  it('lets only the crew and an officer change a day, and only one that was sent', async () => {
    const body = { daySheetId: sheetA, stopIds: [stops[2]], because: '' }
    expect(await refusal(run(dayOrder, body, person('inspector', 'somebody-else')))).toBe(
      'forbidden daySheetId',
    )
    expect(await refusal(run(dayOrder, body, person('officer')))).toBe('taken')
    expect(await refusal(run(dayOrder, { ...body, daySheetId: randomUUID() }))).toBe('unknown daySheetId')
    await harness.deps.database.db
      .update(tables.daySheet)
      .set({ publishedAt: null })
      .where(eq(tables.daySheet.id, sheetA))
    expect(await refusal(run(dayOrder, body))).toBe('conflict daySheetId')
  })

  it('puts a tree on the day once, with its reason, as the last stop', async () => {
    const stopId = randomUUID()
    stops.push(stopId)
    const body = {
      stopId,
      daySheetId: sheetA,
      treeId: trees[5],
      level: 1,
      because: 'A limb hangs over the bench',
    }
    expect(await run(stopAdded, body)).toEqual({ stopId })
    expect(await run(stopAdded, body)).toEqual({ stopId })
    expect(await order(crews.a)).toEqual([0, 1, 2, 3, 6])
    const last = (await inspectorAsks('GET', '/today')).body.daySheet.stops.at(-1)
    expect(last).toMatchObject({
      addedBecause: body.because,
      handedFrom: null,
      level: 1,
      tree: { tag: 'T5' },
    })
    // 200 m further than the stop before; four minutes for a limited look (the assumption of every plan).
    expect(last.leaveMinute - last.startMinute).toBeCloseTo(4, 3)
    expect(last.travelM).toBeCloseTo(260, -1)
    expect(await refusal(run(stopAdded, { ...body, treeId: trees[4] }))).toBe('conflict stopId')
    expect(await refusal(run(stopAdded, { ...body, stopId: randomUUID(), treeId: randomUUID() }))).toBe(
      'unknown treeId',
    )
  })

  it('leaves every stop where the crew has it when a tree comes onto the day or goes to others', async () => {
    await harness.deps.database.db
      .update(tables.stop)
      .set({ skippedBecause: 'Gate locked' })
      .where(eq(tables.stop.id, stops[2]!))
    stops.push(randomUUID())
    const added = { stopId: stops[6], daySheetId: sheetA, treeId: trees[5], level: 1, because: 'On the way' }
    await run(stopAdded, added)
    expect(await order(crews.a)).toEqual([0, 1, 2, 3, 6])
    await run(handOver, { daySheetId: sheetA, toCrewId: crews.b, stopIds: [stops[3]], because: 'No time' })
    expect(await order(crews.a)).toEqual([0, 1, 2, 6])
  })

  it('puts a tree found on the way on the day, where a stop was asked for', async () => {
    const stop = { id: randomUUID(), daySheetId: sheetA, level: 2 as const }
    const asked = (body: object) =>
      call(
        (deps, who, given, when) => foundStop(deps, who, given as never, trees[5]!, when),
        body,
        person('inspector'),
        before,
      )
    expect(await asked({ stop: null })).toBeNull()
    expect(await asked({ stop })).toEqual({ stopId: stop.id })
    expect((await day(crews.a)).daySheet.stops.at(-1)).toMatchObject({
      id: stop.id,
      addedBecause: foundBecause,
    })
  })

  it('hands open stops to another crew behind its own, once, and says from whom and why', async () => {
    const body = {
      daySheetId: sheetA,
      toCrewId: crews.b,
      stopIds: [stops[3], stops[0], stops[2]],
      because: 'We have no lift',
    }
    expect(await run(handOver, body)).toEqual({
      handedOver: [stops[3], stops[2]],
      notMoved: [{ stopId: stops[0], tag: 'T0' }],
    })
    const whole = [(await day(crews.a)).daySheet, (await day(crews.b)).daySheet]
    expect([await order(crews.a), await order(crews.b)]).toEqual([
      [0, 1],
      [4, 3, 2],
    ])
    expect(whole[1].stops[1]).toMatchObject({ handedFrom: 'Crew A', handedBecause: 'We have no lift' })
    // B goes out from the yard to its own tree 500 m away, then 100 m back to the first one handed over.
    expect(whole[1].stops[0].arriveMinute).toBeCloseTo(480 + way(500), 1)
    expect(whole[1].stops[1].travelM).toBeCloseTo(130, -1)
    expect(await run(handOver, body)).toMatchObject({ handedOver: [] })
    expect([(await day(crews.a)).daySheet, (await day(crews.b)).daySheet]).toEqual(whole)
  })

  it('makes an issued day for a crew that has none, and one only', async () => {
    const give = (stopId: string) =>
      run(handOver, { daySheetId: sheetA, toCrewId: crews.c, stopIds: [stopId], because: 'Called away' })
    await give(stops[1]!)
    await give(stops[2]!)
    expect(await order(crews.c)).toEqual([1, 2])
    const rows = await harness.deps.database.db.select().from(tables.daySheet)
    expect(rows.filter((row) => row.crewId === crews.c)).toMatchObject([
      { planId, date: TODAY, startMinute: 480 },
    ])
  })

  it('hands nothing to a crew that does not go so deep, to itself or to nobody', async () => {
    const body = { daySheetId: sheetA, toCrewId: crews.b, stopIds: [stops[1]], because: 'No time' }
    await harness.deps.database.db.update(tables.stop).set({ level: 3 }).where(eq(tables.stop.id, stops[1]!))
    expect(await refusal(run(handOver, body))).toBe('conflict toCrewId')
    expect(await refusal(run(handOver, { ...body, toCrewId: crews.a }))).toBe('conflict toCrewId')
    expect(await refusal(run(handOver, { ...body, toCrewId: randomUUID() }))).toBe('unknown toCrewId')
    expect(await refusal(run(handOver, { ...body, stopIds: [randomUUID()] }))).toBe('unknown stopIds')
    expect(await order(crews.a)).toEqual([0, 1, 2, 3])
  })

  it('tells a phone whom it can hand stops to, and how ways are reckoned', async () => {
    const mine = (await inspectorAsks('GET', '/today')).body
    expect(mine.crew).toMatchObject({ id: crews.a, breakMinutes: 0 })
    expect(mine.otherCrews.map((one: { letter: string }) => one.letter)).toEqual(['B', 'C'])
    expect(mine.detourFactor).toBe(1.3)
    expect((await (await harness.as('client'))('GET', '/today')).body.otherCrews).toEqual([])
  })
})
