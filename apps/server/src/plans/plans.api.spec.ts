import { randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import { addDays, lookingSteps, planeAt, weekday } from '@underbough/model'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, point, ringAt, storeTree, zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

interface Stop {
  id: string
  tree: { id: string; tag: string; due: { on: string; level: number }; position: [number, number] }
  order: number
  level: number
  arriveMinute: number
  startMinute: number
  leaveMinute: number
  doneVisitId: string | null
  skippedBecause: string | null
}
interface Sheet {
  id: string
  crewId: string
  date: string
  startMinute: number
  endMinute: number
  publishedAt: string | null
  stops: Stop[]
}
type Hours = { fromMinute: number; toMinute: number } | null
interface Crew {
  id: string
  level: number
  start: [number, number]
  hours: Hours[]
  daysOff: string[]
}

// The harness lives on Wednesday 25 November 2026, 12:00 at the site.
const TODAY = '2026-11-25'
const yard = lampGreen
/** 300 m north of the yard: the first crew starts among the trees far from anybody. */
const shed = planeAt(...yard).toDegrees(0, 300)
const week = (hours: Hours): Hours[] => [hours, hours, hours, hours, hours, null, null]
const crewOf = (letter: string, changes: object) => ({
  name: `Crew ${letter}`,
  letter,
  level: 2,
  equipment: [],
  memberIds: [],
  start: yard,
  end: yard,
  hours: week({ fromMinute: 480, toMinute: 540 }),
  breakMinutes: 0,
  daysOff: [],
  ...changes,
})
const firstCodes = (answer: { status: number; body: { refusals: { code: string; path: string }[] } }) => [
  answer.status,
  ...answer.body.refusals.slice(0, 1).map((r) => `${r.code} ${r.path}`.trim()),
]
/** Metres over a sphere: by hand, so that the plan's own plane is not asked to vouch for itself. */
function sphereM([lon1, lat1]: [number, number], [lon2, lat2]: [number, number]) {
  const r = Math.PI / 180
  const h =
    Math.sin(((lat2 - lat1) * r) / 2) ** 2 +
    Math.cos(lat1 * r) * Math.cos(lat2 * r) * Math.sin(((lon2 - lon1) * r) / 2) ** 2
  return 2 * 6_371_000 * Math.asin(Math.sqrt(h))
}

describe.each(databases)('rounds, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  let inspector: Ask
  let crews: { a: Crew; b: Crew }
  let planId: string
  const planOf = async (id: string) => (await officer('GET', `/plans/${id}`)).body
  const make = async (asked: object) => {
    const begun = await officer('POST', '/plans', { from: TODAY, days: 5, dueUntil: '2029-12-31', ...asked })
    expect(begun.status, JSON.stringify(begun.body)).toBe(200)
    await harness.deps.jobs.idle()
    expect((await officer('GET', `/jobs/${begun.body.jobId}`)).body).toMatchObject({
      state: 'done',
      kind: 'plan',
      subjectId: begun.body.planId,
    })
    return begun.body.planId as string
  }

  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
    inspector = await harness.as('inspector')
    expect(firstCodes(await officer('POST', '/plans', { from: TODAY, days: 5 }))).toEqual([
      400,
      'no-crew crews',
    ])
    // Fifteen trees by a path that people use often, where a first look is a basic one (level 2), fifteen far from anybody (level 1).
    const path = ringAt(yard, [
      [-5, -5],
      [170, -5],
      [170, 5],
      [-5, 5],
    ])
    const zone = zoneExample({ kind: 'footpath', geometry: { type: 'Polygon', coordinates: [path] } })
    expect((await officer('POST', '/zones', zone)).status).toBe(200)
    const plane = planeAt(...yard)
    for (let i = 0; i < 30; i++)
      await storeTree(harness.deps.database, harness.organisationId, {
        tag: `T${String(i).padStart(2, '0')}`,
        heightM: 12,
        enteredOn: i % 5 === 0 ? '2024-06-01' : '2026-11-01',
        position: point(plane.toDegrees((i % 15) * 11, i < 15 ? 7 : 300 + (i % 3) * 40)),
      })
    expect((await officer('POST', '/due/recompute', {})).status).toBe(200)
    await harness.deps.jobs.idle()
    const add = async (letter: string, changes: object) => {
      const answer = await officer('POST', '/crews', crewOf(letter, changes))
      expect(answer.status, JSON.stringify(answer.body)).toBe(200)
      return answer.body as Crew
    }
    crews = {
      a: await add('A', {
        level: 1,
        memberIds: ['inspector-1'],
        hours: week({ fromMinute: 480, toMinute: 510 }),
        start: shed,
        end: shed,
      }),
      b: await add('B', { level: 2, memberIds: ['officer-1'], daysOff: ['2026-11-26'] }),
    }
  })
  afterAll(() => harness?.close())

  it('makes day sheets as a job: no tree twice, none forgotten, within hours and levels, and ways that can be walked', async () => {
    planId = await make({ iterations: 3000 })
    const { plan, daySheets, unplaced } = (await planOf(planId)) as {
      plan: { state: string; number: number }
      daySheets: Sheet[]
      unplaced: { tree: { id: string }; code: string; message: string }[]
    }
    expect(plan).toMatchObject({ state: 'draft', number: 1 })
    const listed = (await officer('GET', '/trees?limit=200&dueUntil=2029-12-31')).body.trees
    expect(listed).toHaveLength(30)
    const named = [
      ...daySheets.flatMap((s) => s.stops.map((stop) => stop.tree.id)),
      ...unplaced.map((u) => u.tree.id),
    ]
    expect(named.toSorted()).toEqual(listed.map((t: { id: string }) => t.id).toSorted())
    expect(new Set(daySheets.map((s) => `${s.crewId} ${s.date}`)).size).toBe(daySheets.length)
    expect(new Set(daySheets.map((s) => s.crewId)).size).toBe(2)
    // Five working days from a Wednesday: Wednesday to Friday, Monday and Tuesday.
    const days = ['2026-11-25', '2026-11-26', '2026-11-27', '2026-11-30', '2026-12-01']
    for (const sheet of daySheets) {
      const crew = [crews.a, crews.b].find((one) => one.id === sheet.crewId)!
      const hours = crew.hours[weekday(sheet.date)]!
      expect(days).toContain(sheet.date)
      expect(crew.daysOff).not.toContain(sheet.date)
      expect(sheet.startMinute).toBeGreaterThanOrEqual(hours.fromMinute)
      expect(sheet.endMinute).toBeLessThanOrEqual(hours.toMinute)
      expect(sheet.stops.map((stop) => stop.order)).toEqual(sheet.stops.map((_, i) => i + 1))
      let [clock, place] = [sheet.startMinute, crew.start]
      for (const stop of sheet.stops) {
        expect(stop.level).toBe(stop.tree.due.level)
        expect(stop.level).toBeLessThanOrEqual(crew.level)
        // Assumptions of the plan: 30 % more than the straight line, on foot at 4.5 km/h or by car at 21.6 km/h and a minute to park.
        const way = 1.3 * sphereM(place, stop.tree.position)
        expect(stop.arriveMinute - clock).toBeCloseTo(Math.min(way / 1.25, way / 6 + 60) / 60, 0)
        expect(stop.startMinute).toBeGreaterThanOrEqual(stop.arriveMinute - 1e-3)
        // Assumption: 4 minutes for a limited look, 12 for a basic one.
        expect(stop.leaveMinute - stop.startMinute).toBeCloseTo(stop.level === 1 ? 4 : 12, 2)
        clock = stop.leaveMinute
        place = stop.tree.position
      }
      expect(clock).toBeLessThanOrEqual(sheet.endMinute + 0.5)
    }
    for (const left of unplaced) expect(left.message.length).toBeGreaterThan(10)
  })

  it('keeps the cost of its plain peer beside its own, and the share it saves of what a plan can change', async () => {
    const { plan } = await planOf(planId)
    const { cost, peerCost } = plan
    expect(cost.total).toBeCloseTo(cost.travelSeconds + 30 * cost.riskDays + cost.unserved, 0)
    expect(cost.total).toBeLessThanOrEqual(peerCost.total)
    // Days late on the first day, told from the list of trees: never rated weighs 3, twice that from 90 days late.
    const { trees } = (await officer('GET', '/trees?limit=200')).body
    const accrued = trees.reduce(
      (sum: number, { overdueDays: late }: { overdueDays: number }) =>
        sum + 3 * (1 + Math.min(late, 90) / 90) * late,
      0,
    )
    expect(accrued).toBeGreaterThan(0)
    expect(plan.savedShare).toBeCloseTo((peerCost.total - cost.total) / (peerCost.total - 30 * accrued), 6)
    expect((await officer('GET', '/plans')).body.plans[0]).toMatchObject({
      id: planId,
      savedShare: plan.savedShare,
    })
  })

  it('sends named days, then the rest, and nothing twice', async () => {
    const { daySheets } = (await planOf(planId)) as { daySheets: Sheet[] }
    const first = daySheets.filter((s) => s.date === TODAY)
    expect(first).toHaveLength(2)
    expect((await officer('GET', `/today?crew=${crews.a.id}`)).body.daySheet).toBeNull()
    const send = (body: object) => officer('POST', `/plans/${planId}/publish`, body)
    expect((await send({ dates: ['2027-01-01'] })).status).toBe(409)
    expect((await send({ dates: [TODAY] })).body).toEqual({ published: 2 })
    const after = (await planOf(planId)).daySheets as Sheet[]
    expect(after.filter((s) => s.publishedAt).map((s) => s.date)).toEqual([TODAY, TODAY])
    expect(firstCodes(await send({ dates: [TODAY] }))).toEqual([409, 'conflict dates'])
    expect((await send({})).body).toEqual({ published: daySheets.length - 2 })
    expect(firstCodes(await send({}))).toEqual([409, 'conflict dates'])
    expect((await planOf(planId)).plan.state).toBe('published')
  })

  it('shows the day to the crew whose day it is and to no other', async () => {
    const mine = (await inspector('GET', '/today')).body
    expect(mine).toMatchObject({ date: TODAY, crew: { id: crews.a.id }, nextDate: null })
    expect(mine.daySheet.crewId).toBe(crews.a.id)
    expect((await officer('GET', '/today')).body.daySheet.crewId).toBe(crews.b.id)
    const manager = await harness.as('manager')
    expect((await manager('GET', '/today')).body).toMatchObject({
      crew: null,
      daySheet: null,
      nextDate: null,
    })
    const client = await harness.as('client')
    expect((await client('GET', '/today')).body.daySheet).toBeNull()
    expect((await client('GET', `/today?crew=${crews.a.id}`)).status).toBe(403)
    const free = (await officer('GET', `/today?date=2026-11-26`)).body
    expect(free).toMatchObject({ crew: { id: crews.b.id }, daySheet: null })
    expect(free.nextDate).toBe('2026-11-27')
  })

  it('marks a stop done when its visit is closed, and moves the date of the next look', async () => {
    const [stop] = (await officer('GET', '/today')).body.daySheet.stops as Stop[]
    const visit = {
      id: randomUUID(),
      treeId: stop!.tree.id,
      level: 2,
      startedAt: `${TODAY}T09:05:00Z`,
      endedAt: `${TODAY}T09:20:00Z`,
      weather: 'dry',
      leafState: 'in-leaf',
      assignment: {
        scope: 'This tree',
        level: 2,
        levelReason: 'Due',
        timeFrameYears: 3,
        targets: 'The path',
        limits: '',
      },
      steps: lookingSteps.map((step) => ({
        step,
        result: 'nothing-found',
        notSeenBecause: null,
        seconds: 60,
      })),
      findings: [],
      couldNotSee: '',
      positionAccuracyM: 4,
    }
    const closing = { visit, rating: null, works: [], urgentNote: null }
    const closed = await inspector('POST', `/visits/${visit.id}/close`, closing)
    expect(closed.status, JSON.stringify(closed.body)).toBe(200)
    expect(closed.body.before.on).toBe(stop!.tree.due.on)
    expect(closed.body.due.on > TODAY).toBe(true)
    expect(closed.body.due.on).not.toBe(stop!.tree.due.on)
    const [done, next] = (await officer('GET', '/today')).body.daySheet.stops as Stop[]
    expect(done).toMatchObject({ id: stop!.id, doneVisitId: visit.id, skippedBecause: null })
    expect(done!.tree.due.on).toBe(closed.body.due.on)
    const end = (id: string, body: object) => inspector('POST', `/stops/${id}/end`, body)
    // The device says it again with the visit: nothing changes. That it was skipped would undo the visit.
    expect((await end(done!.id, { visitId: visit.id, skippedBecause: null })).status).toBe(204)
    expect((await end(done!.id, { visitId: null, skippedBecause: 'Nobody at home' })).status).toBe(409)
    expect(firstCodes(await end(next!.id, { visitId: visit.id, skippedBecause: null }))).toEqual([
      404,
      'unknown visitId',
    ])
    expect((await end(next!.id, { visitId: randomUUID(), skippedBecause: null })).status).toBe(404)
  })

  it('takes a reason for a stop that was skipped, and asks for one', async () => {
    const stops = (await officer('GET', '/today')).body.daySheet.stops as Stop[]
    const last = stops.at(-1)!
    const end = (ask: Ask, id: string, body: object) => ask('POST', `/stops/${id}/end`, body)
    expect((await end(inspector, last.id, { visitId: null, skippedBecause: ' ' })).status).toBe(400)
    expect((await end(inspector, last.id, { visitId: null, skippedBecause: null })).status).toBe(400)
    expect((await end(inspector, randomUUID(), { visitId: null, skippedBecause: 'No way in' })).status).toBe(
      404,
    )
    const client = await harness.as('client')
    expect((await end(client, last.id, { visitId: null, skippedBecause: 'No way in' })).status).toBe(403)
    expect((await end(inspector, last.id, { visitId: null, skippedBecause: 'No way in' })).status).toBe(204)
    const after = (await officer('GET', '/today')).body.daySheet.stops as Stop[]
    expect(after.at(-1)).toMatchObject({ id: last.id, doneVisitId: null, skippedBecause: 'No way in' })
  })

  it('plans a second time around what was sent; only what was skipped may come again', async () => {
    const sent = ((await planOf(planId)).daySheets as Sheet[]).flatMap((s) => s.stops)
    const skipped = sent.filter((s) => s.skippedBecause !== null).map((s) => s.tree.id)
    const openOrDone = new Set(sent.filter((s) => s.skippedBecause === null).map((s) => s.tree.id))
    const old = new Set(((await planOf(planId)).daySheets as Sheet[]).map((s) => `${s.crewId} ${s.date}`))
    // From today and from tomorrow: the trees sent for today are still open tomorrow morning.
    for (const from of [TODAY, addDays(TODAY, 1)]) {
      const { plan, daySheets, unplaced } = await planOf(await make({ from, days: 8, iterations: 500 }))
      const named = [
        ...(daySheets as Sheet[]).flatMap((s) => s.stops.map((stop) => stop.tree.id)),
        ...unplaced.map((u: { tree: { id: string } }) => u.tree.id),
      ]
      const open = named.filter((id) => openOrDone.has(id))
      // A tree looked at meanwhile may be due again before the end of 2029; one that waits on a sheet may not.
      expect(sent.filter((s) => open.includes(s.tree.id) && s.doneVisitId === null)).toEqual([])
      expect(named).toEqual(expect.arrayContaining(skipped))
      for (const sheet of daySheets as Sheet[]) expect(old).not.toContain(`${sheet.crewId} ${sheet.date}`)
      expect(plan.savedShare === null || (plan.savedShare >= 0 && plan.savedShare <= 1)).toBe(true)
    }
  })

  it('does not send a crew two sheets for one day, or two crews to one tree', async () => {
    await harness.deps.database.db.update(tables.daySheet).set({ publishedAt: null })
    const again = await make({ days: 1, crewIds: [crews.b.id], iterations: 100 })
    const third = await make({ days: 1, from: addDays(TODAY, 2), crewIds: [crews.b.id], iterations: 100 })
    expect((await officer('POST', `/plans/${planId}/publish`, { dates: [TODAY] })).status).toBe(200)
    expect(firstCodes(await officer('POST', `/plans/${again}/publish`, {}))).toEqual([409, 'conflict dates'])
    const twice = await officer('POST', `/plans/${third}/publish`, {})
    expect(firstCodes(twice)).toEqual([409, 'conflict dates'])
    expect(twice.body.detail).toMatch(/^Tree T/)
    expect(((await planOf(again)).daySheets as Sheet[]).every((s) => s.publishedAt === null)).toBe(true)
  })

  it('keeps the best plan so far when a person stops it', async () => {
    const asked = { from: '2027-02-01', days: 5, dueUntil: '2029-12-31', iterations: 20_000_000 }
    const { body: begun } = await officer('POST', '/plans', asked)
    const job = async () => (await officer('GET', `/jobs/${begun.jobId}`)).body
    while ((await job()).done === 0) await new Promise((resolve) => setTimeout(resolve, 50))
    expect((await officer('POST', `/jobs/${begun.jobId}/cancel`)).status).toBe(204)
    while ((await planOf(begun.planId)).plan.state === 'making') await new Promise((r) => setTimeout(r, 50))
    const { plan, daySheets } = await planOf(begun.planId)
    expect(plan.cost.iterations).toBeLessThan(20_000_000)
    expect(daySheets.length).toBeGreaterThan(0)
    expect((await job()).message).toMatch(/best plan so far is kept/)
  })

  it('leaves nothing of a plan that was stopped before it began', async () => {
    const ahead = (await officer('POST', '/plans', { from: '2027-02-01', days: 5, iterations: 20_000_000 }))
      .body
    const behind = (await officer('POST', '/plans', { from: '2027-02-01', days: 5 })).body
    expect((await officer('POST', `/jobs/${behind.jobId}/cancel`)).status).toBe(204)
    await officer('POST', `/jobs/${ahead.jobId}/cancel`)
    expect((await officer('GET', `/plans/${behind.planId}`)).status).toBe(404)
    expect((await officer('GET', `/jobs/${behind.jobId}`)).body.state).toBe('cancelled')
    expect((await officer('POST', `/jobs/${randomUUID()}/cancel`)).status).toBe(404)
  })

  it('refuses what cannot be planned, at once and with the field', async () => {
    const none = randomUUID()
    expect(firstCodes(await officer('GET', `/plans/${none}`))).toEqual([404, 'unknown id'])
    expect(firstCodes(await officer('POST', `/plans/${none}/publish`, {}))).toEqual([404, 'unknown id'])
    const asked = { from: TODAY, days: 5 }
    expect(firstCodes(await officer('POST', '/plans', { ...asked, crewIds: [none] }))).toEqual([
      400,
      'no-crew crews',
    ])
    expect(firstCodes(await officer('POST', '/plans', { ...asked, days: 0 }))).toEqual([
      400,
      'out-of-range days',
    ])
    const reversed = crewOf('R', { hours: week({ fromMinute: 960, toMinute: 480 }) })
    expect(firstCodes(await officer('POST', '/crews', reversed))).toEqual([400, 'crew-hours hours.0'])
    for (const role of ['inspector', 'client'] as const)
      expect((await (await harness.as(role))('POST', '/plans', asked)).status).toBe(403)
    expect((await harness.stranger('POST', '/plans', asked)).status).toBe(401)
  })
})
