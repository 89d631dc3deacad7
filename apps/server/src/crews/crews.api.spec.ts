import { randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

describe.each(databases)('crews, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())

  const day = { fromMinute: 480, toMinute: 960 }
  const crew = {
    name: 'North crew',
    letter: 'N',
    level: 2,
    equipment: ['ladder'],
    memberIds: ['inspector-1'],
    start: lampGreen,
    end: lampGreen,
    hours: [day, day, day, day, day, null, null],
    breakMinutes: 30,
    daysOff: ['2026-12-25'],
  }

  it('adds, changes, lists and removes a crew', async () => {
    const made = await officer('POST', '/crews', crew)
    expect(made.body).toMatchObject({ ...crew, version: 1 })
    const changed = await officer('PUT', `/crews/${made.body.id}`, { ...crew, letter: 'Q', version: 1 })
    expect(changed.body).toMatchObject({ letter: 'Q', version: 2 })
    expect((await officer('PUT', `/crews/${made.body.id}`, { ...crew, version: 1 })).body.current).toEqual(
      changed.body,
    )
    expect((await officer('GET', '/crews')).body.crews).toEqual([changed.body])
    expect((await officer('DELETE', `/crews/${made.body.id}`)).status).toBe(204)
    expect((await officer('GET', '/crews')).body.crews).toEqual([])
  })

  it.each([
    [
      'a day that ends before it begins',
      { hours: [{ fromMinute: 960, toMinute: 480 }, ...crew.hours.slice(1)] },
      'crew-hours',
      'hours.0',
    ],
    [
      'a day no longer than its break',
      { hours: [...crew.hours.slice(0, 6), { fromMinute: 480, toMinute: 510 }] },
      'crew-hours',
      'hours.6',
    ],
    ['a person of nowhere', { memberIds: ['inspector-1', 'nobody'] }, 'unknown', 'memberIds.1'],
    ['a day off that is no day', { daysOff: ['2026-02-30'] }, 'malformed', 'daysOff.0'],
  ])('refuses %s', async (_, change, code, path) => {
    const answer = await officer('POST', '/crews', { ...crew, ...change })
    expect(answer.status).toBe(code === 'unknown' ? 404 : 400)
    expect(answer.body.refusals[0]).toMatchObject({ code, path })
  })

  it('keeps a crew that has a day sheet', async () => {
    const { body: made } = await officer('POST', '/crews', crew)
    const { db } = harness.deps.database
    const planId = randomUUID()
    const { organisationId } = harness
    await db
      .insert(tables.plan)
      .values({ organisationId, id: planId, number: 1, state: 'draft', asked: {}, madeBy: 'officer-1' })
    await db.insert(tables.daySheet).values({
      organisationId,
      id: randomUUID(),
      planId,
      crewId: made.id,
      date: '2026-11-26',
      startMinute: 480,
      endMinute: 960,
      travelMinutes: 0,
      travelM: 0,
      serviceMinutes: 0,
    })
    const answer = await officer('DELETE', `/crews/${made.id}`)
    expect([answer.status, answer.body.refusals[0].code]).toEqual([409, 'in-use'])
  })

  it('lists the people with their roles', async () => {
    const { body } = await officer('GET', '/people')
    expect(body.people.map((p: { personId: string; role: string }) => [p.personId, p.role])).toContainEqual([
      'inspector-1',
      'inspector',
    ])
  })
})
