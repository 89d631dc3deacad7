import { randomUUID } from 'node:crypto'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { batchExample, closingExample, entryExample, treeExample, visitExample } from '../testing/bodies.ts'
import { zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const dayMs = 86_400_000
const earlierBy = (instant: string, ms: number) => new Date(Date.parse(instant) - ms).toISOString()

describe.each(databases)('a device whose clock is off, on %s', (kind) => {
  let harness: Harness
  let inspector: Ask
  let officer: Ask
  beforeAll(async () => {
    harness = await startHarness(kind)
    inspector = await harness.as('inspector')
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())

  const record = async (id: string) => (await officer('GET', `/trees/${id}`)).body
  /** Two looks and an event at one tree, the worse look last, all told by a clock that is `offMs` behind the office's. */
  async function sendWith(offMs: number, by: 'entry' | 'batch', reversed = false) {
    const treeId = (await officer('POST', '/trees', treeExample())).body.id
    const told = (instant: string) => earlierBy(instant, offMs)
    const look = (day: string, failure: 'possible' | 'probable') =>
      closingExample(
        visitExample(treeId, {
          startedAt: told(`${day}T09:05:00Z`),
          endedAt: told(`${day}T09:30:00Z`),
        }),
        failure,
      )
    const made = (kind: string, body: unknown, at: string) =>
      entryExample(kind, body, { madeAt: told(at), clockOffsetMs: by === 'entry' ? offMs : null })
    const event = {
      id: randomUUID(),
      treeId,
      kind: 'gust',
      on: told('2026-11-25T11:00:00Z').slice(0, 10),
      lookWithinDays: 30,
      note: '',
    }
    const entries = [
      made('closing', look('2026-11-20', 'possible'), '2026-11-20T09:31:00Z'),
      made('closing', look('2026-11-25', 'probable'), '2026-11-25T09:31:00Z'),
      made('tree-event', event, '2026-11-25T11:00:00Z'),
    ]
    const batch = batchExample(reversed ? entries.toReversed() : entries, {
      sentAt: told('2026-11-25T12:00:00Z'),
    })
    const { body } = await inspector('POST', '/entries', batch)
    expect(body.answers.map((one: { verdict: string }) => one.verdict)).toEqual(['taken', 'taken', 'taken'])
    const { rating, ratings, due, risk, visits, events, seen } = await record(treeId)
    return {
      rows: { visits, ratings },
      outcome: {
        due: { ...due, treeId: '' },
        risk,
        seen,
        inForce: rating.scenarios[0].failure,
        rated: ratings.map((one: { ratedAt: string }) => one.ratedAt),
        looked: visits.map((one: { startedAt: string; endedAt: string }) => [one.startedAt, one.endedAt]),
        events: events.map((one: { on: string }) => one.on),
      },
    }
  }

  it('changes neither order nor due dates, a day fast or slow, however it is known', async () => {
    const right = await sendWith(0, 'entry')
    expect(right.outcome.inForce).toBe('probable')
    expect(right.outcome.events).toEqual(['2026-11-25'])
    expect(right.outcome.rated).toEqual(['2026-11-25T09:30:00.000Z', '2026-11-20T09:30:00.000Z'])
    for (const offMs of [dayMs, -dayMs])
      for (const by of ['entry', 'batch'] as const)
        for (const reversed of [false, true])
          expect((await sendWith(offMs, by, reversed)).outcome).toEqual(right.outcome)
  })

  it('keeps what the device said beside what it was put right to', async () => {
    const { rows } = await sendWith(dayMs, 'entry')
    expect(rows.visits.map((one: { clockOffsetMs: number }) => one.clockOffsetMs)).toEqual([dayMs, dayMs])
    const near = await sendWith(90_000, 'entry')
    expect(near.rows.visits[0]).toMatchObject({ clockOffsetMs: 0, startedAt: '2026-11-25T09:03:30.000Z' })
  })

  it('counts a rating from the look and not from when it came', async () => {
    const treeId = (await officer('POST', '/trees', treeExample())).body.id
    const at = (day: string) => ({ startedAt: `${day}T09:05:00Z`, endedAt: `${day}T09:30:00Z` })
    const newer = closingExample(visitExample(treeId, at('2026-11-24')), 'probable')
    const older = closingExample(visitExample(treeId, at('2026-11-10')))
    for (const body of [newer, older])
      await inspector('POST', '/entries', batchExample([entryExample('closing', body)]))
    const { rating, ratings, due } = await record(treeId)
    expect(rating.id).toBe(newer.rating!.id)
    expect(ratings.map((one: { ratedAt: string }) => one.ratedAt)).toEqual([
      '2026-11-24T09:30:00.000Z',
      '2026-11-10T09:30:00.000Z',
    ])
    const alone = (await officer('POST', '/trees', treeExample())).body.id
    const only = closingExample(visitExample(alone, at('2026-11-24')), 'probable')
    await inspector('POST', '/entries', batchExample([entryExample('closing', only)]))
    expect({ ...due, treeId: alone }).toEqual((await record(alone)).due)
  })

  it('keeps a look that did not know of a change of its zone, and opens its rating again', async () => {
    const treeId = (await officer('POST', '/trees', treeExample())).body.id
    const zone = (await officer('POST', '/zones', zoneExample())).body
    const closing = closingExample(visitExample(treeId))
    const target = closing.rating!.scenarios[0]!.targets[0]!
    Object.assign(target, { zoneId: zone.id, targetName: zone.name })
    const send = async (body: object) =>
      (await inspector('POST', '/entries', batchExample([entryExample('closing', body)]))).body.answers[0]
    expect((await send(closing)).answer.rating.reopenedBecause).toBeNull()
    const { id: _, areaM2: __, createdAt: ___, updatedAt: ____, ...input } = zone
    const busier = { ...input, occupancyWord: 'constant', name: 'Bench, moved' }
    expect((await officer('PUT', `/zones/${zone.id}`, busier)).status).toBe(200)
    const later = closingExample(visitExample(treeId))
    later.rating!.scenarios[0]!.targets[0] = target
    const answer = await send(later)
    expect(answer.verdict).toBe('taken')
    expect(answer.answer.rating.scenarios[0].targets[0].proposedImpact).toBe('medium')
    expect(answer.answer.rating.reopenedBecause).toContain('“Bench, moved”')
    expect((await record(treeId)).ratingOpen).toBe(true)
  })
})
