import { addDays, mondayOf } from '@underbough/model'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, point, storeTree } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

type Count = Record<'low' | 'moderate' | 'high' | 'extreme' | 'unrated', number>
const total = (count: Count) => Object.values(count).reduce((a, b) => a + b, 0)
// The harness lives on Wednesday 25 November 2026.
const TODAY = '2026-11-25'
const MONDAY = '2026-11-23'

describe.each(databases)('looks due by week, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  const risks = ['low', 'moderate', 'high', 'extreme', null] as const
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
    // Every third day from ten weeks ago: some before the first week asked for, some on both sides of today and of every Monday.
    for (let i = 0; i < 60; i++)
      await storeTree(
        harness.deps.database,
        harness.organisationId,
        { position: point(lampGreen) },
        {
          risk: risks[i % 5]!,
          seen: i % 5 < 4,
          dueOn: addDays(TODAY, 3 * i - 69),
          dueKind: 'look',
          dueLevel: 2,
        },
      )
    await storeTree(harness.deps.database, harness.organisationId, {
      status: 'gone',
      position: point(lampGreen),
    })
  })
  afterAll(() => harness?.close())

  const strip = async (query = '') =>
    (await officer('GET', `/due/weeks?weeksBack=4&weeksAhead=10${query}`)).body

  it('counts what the list of trees counts, week by week and risk by risk', async () => {
    const { weeks, today, thisWeek } = await strip()
    expect([today, thisWeek]).toEqual([TODAY, MONDAY])
    expect(weeks.map((w: { week: string }) => w.week)).toEqual(
      Array.from({ length: 14 }, (_, i) => addDays(MONDAY, 7 * (i - 4))),
    )
    const { trees } = (await officer('GET', '/trees?limit=2000')).body
    for (const [i, { week, due, late }] of weeks.entries()) {
      // What was due before the first week asked for stands in the first week: it does not vanish.
      const mine = trees.filter(
        ({ due: d }: { due: { on: string } | null }) =>
          d && (i === 0 ? d.on < addDays(week, 7) : mondayOf(d.on) === week),
      )
      for (const word of risks)
        expect(due[word ?? 'unrated'], `${week} ${word}`).toBe(
          mine.filter((t: { risk: string | null }) => t.risk === word).length,
        )
      expect(total(late)).toBe(mine.filter((t: { overdueDays: number }) => t.overdueDays > 0).length)
      const listed = await officer(
        'GET',
        `/trees?limit=1&dueUntil=${addDays(week, 6)}${i === 0 ? '' : `&dueFrom=${week}`}`,
      )
      expect(total(due)).toBe(listed.body.total)
    }
    expect(weeks.reduce((sum: number, { late }: { late: Count }) => sum + total(late), 0)).toBe(23)
  })

  it('says how many looks the crews can make in a week: hours without pause and days off, over the minutes of a look', async () => {
    expect((await strip()).capacity.every((c: { visits: number }) => c.visits === 0)).toBe(true)
    const six = { fromMinute: 480, toMinute: 840 }
    const crew = {
      name: 'Crew A',
      letter: 'A',
      level: 2,
      equipment: [],
      memberIds: [],
      start: lampGreen,
      end: lampGreen,
      hours: [six, six, null, null, null, null, null],
      breakMinutes: 30,
      daysOff: [addDays(MONDAY, 7)],
    }
    expect((await officer('POST', '/crews', crew)).status).toBe(200)
    const { capacity } = await strip()
    // Two days of 360 - 30 minutes at 12 minutes a basic look (Assumption of the plan): 55; one of them off in the week after.
    expect(capacity[4]).toEqual({ week: MONDAY, visits: 55 })
    expect(capacity[5]).toEqual({ week: addDays(MONDAY, 7), visits: 27 })
  })

  it('knows its own bounds', async () => {
    expect((await officer('GET', '/due/weeks?weeksAhead=0')).status).toBe(400)
    expect((await officer('GET', '/due/weeks?siteId=here')).status).toBe(400)
    for (const role of ['inspector', 'client'] as const)
      expect((await (await harness.as(role))('POST', '/due/recompute', {})).status).toBe(403)
  })
})
