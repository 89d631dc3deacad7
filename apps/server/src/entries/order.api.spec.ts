import { randomUUID } from 'node:crypto'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { batchExample, closingExample, entryExample, treeExample, visitExample } from '../testing/bodies.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

type Entry = ReturnType<typeof entryExample>

describe.each(databases)('entries in any order, on %s', (kind) => {
  let harness: Harness
  let inspector: Ask
  let officer: Ask
  beforeAll(async () => {
    harness = await startHarness(kind)
    inspector = await harness.as('inspector')
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())

  /** A day's work at one tree that nobody had on record: each entry stands on the one before it or alone. */
  function dayOfWork(): { treeId: string; entries: Entry[] } {
    const treeId = randomUUID()
    const visit = visitExample(treeId)
    const note = {
      id: randomUUID(),
      treeId,
      visitId: visit.id,
      keptOut: true,
      toldWhom: 'The warden',
      toldHow: 'by telephone',
      toldAt: '2026-11-25T09:20:00Z',
      interimClosure: 'The path is closed.',
    }
    const outline = {
      kind: 'outline',
      id: randomUUID(),
      visitId: visit.id,
      label: 'O1',
      heightM: 1.3,
      instrument: 'tape',
      note: '',
      reading: { by: 'girth', girthCm: 295 },
    }
    const at = (minute: number) => ({ madeAt: `2026-11-25T09:${String(minute).padStart(2, '0')}:00Z` })
    const closing = closingExample(visit)
    return {
      treeId,
      entries: [
        entryExample('found-tree', { id: treeId, tree: treeExample(), stop: null, fallen: null }, at(1)),
        entryExample('visit-draft', { ...visit, weather: 'wet', endedAt: null, steps: [] }, at(10)),
        entryExample('visit-draft', { ...visit, weather: 'drier', endedAt: null, steps: [] }, at(15)),
        entryExample('urgent-note', note, at(21)),
        entryExample('reading', outline, at(25)),
        entryExample(
          'closing',
          { ...closing, urgentNote: { ...note, interimClosure: 'Park closed.' } },
          at(31),
        ),
        entryExample(
          'failure',
          {
            id: randomUUID(),
            treeId,
            place: null,
            on: '2026-11-25',
            part: 'limb',
            gustMps: null,
            hit: '',
            nearMiss: true,
            note: '',
          },
          at(33),
        ),
        entryExample(
          'tree-event',
          { id: randomUUID(), treeId, kind: 'gust', on: '2026-11-25', lookWithinDays: 30, note: '' },
          at(34),
        ),
      ],
    }
  }

  /** Sends batches until each entry was put on record, as a device does; identifiers come out as their order in the work. */
  async function outcomeOf({ treeId, entries }: ReturnType<typeof dayOfWork>, batches: number[][]) {
    const waiting = new Set(entries.map((entry) => entry.key))
    for (let round = 0; waiting.size > 0 && round < 5; round++)
      for (const batch of batches) {
        const answer = await inspector('POST', '/entries', batchExample(batch.map((i) => entries[i])))
        for (const { key, verdict, refusals } of answer.body.answers) {
          expect([verdict, refusals]).not.toContain('refused')
          if (verdict === 'taken') waiting.delete(key)
        }
      }
    expect([...waiting]).toEqual([])
    const record = (await officer('GET', `/trees/${treeId}`)).body
    const probes = (await officer('GET', `/trees/${treeId}/probes`)).body
    const text = JSON.stringify({ ...record, probes })
    // Two days of work differ in their identifiers, and in when the database made its rows.
    const names = new Map<string, string>()
    const named = text.replace(/[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g, (id) => {
      if (!names.has(id)) names.set(id, `id ${names.size}`)
      return names.get(id)!
    })
    return JSON.parse(named.replace(/"T[0-9a-f]{8}"/g, '"T"'), (key, value) =>
      key === 'createdAt' || key === 'updatedAt' || key === 'exposure' ? undefined : value,
    )
  }

  it('come to the same records, however they are split, turned round and repeated', async () => {
    const straight = await outcomeOf(dayOfWork(), [[0, 1, 2, 3, 4, 5, 6, 7]])
    expect(straight.visits).toMatchObject([{ stage: 'closed', weather: 'dry, light wind' }])
    expect(straight.urgentNotes).toMatchObject([
      { interimClosure: 'Park closed.', writtenAt: '2026-11-25T09:31:00.000Z' },
    ])
    const order = fc.shuffledSubarray([0, 1, 2, 3, 4, 5, 6, 7], { minLength: 8 })
    const splits = fc.array(fc.nat(8), { maxLength: 3 })
    await fc.assert(
      fc.asyncProperty(order, splits, fc.boolean(), async (entries, cuts, twice) => {
        const batches: number[][] = []
        let from = 0
        for (const to of [...cuts.toSorted((a, b) => a - b), 8]) {
          batches.push(entries.slice(from, to))
          from = to
        }
        if (twice) batches.push(entries)
        expect(await outcomeOf(dayOfWork(), batches)).toEqual(straight)
      }),
      { numRuns: 12, seed: 3 },
    )
  })

  it('keep the draft made last, whichever comes last', async () => {
    const treeId = (await officer('POST', '/trees', treeExample())).body.id
    const visit = visitExample(treeId, { endedAt: null })
    const draft = (weather: string, minute: string) =>
      entryExample('visit-draft', { ...visit, weather }, { madeAt: `2026-11-25T09:${minute}:00Z` })
    for (const entry of [draft('second', '20'), draft('first', '10')])
      await inspector('POST', '/entries', batchExample([entry]))
    expect((await officer('GET', `/visits/${visit.id}`)).body.weather).toBe('second')
    await inspector('POST', '/entries', batchExample([draft('third', '25')]))
    expect((await officer('GET', `/visits/${visit.id}`)).body.weather).toBe('third')
  })
})
