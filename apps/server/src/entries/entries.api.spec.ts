import { randomUUID } from 'node:crypto'
import { type EntryAnswer, entryFormat } from '@underbough/model'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest'
import { batchExample, closingExample, entryExample, treeExample, visitExample } from '../testing/bodies.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const codes = (answer: EntryAnswer) => answer.refusals.map((one) => one.code)
const note = (treeId: string, changes: object = {}) => ({
  id: randomUUID(),
  treeId,
  visitId: null,
  keptOut: true,
  toldWhom: 'The warden',
  toldHow: 'by telephone',
  toldAt: '2026-11-25T09:20:00Z',
  interimClosure: 'The path is closed.',
  ...changes,
})
const failure = (treeId: string | null, changes: object = {}) => ({
  id: randomUUID(),
  treeId,
  place: null,
  on: '2026-11-25',
  part: 'limb',
  gustMps: null,
  hit: '',
  nearMiss: false,
  note: 'A limb lies on the path.',
  ...changes,
})

describe.each(databases)('entries from a device, on %s', (kind) => {
  let harness: Harness
  let inspector: Ask
  let officer: Ask
  let treeId: string

  const send = async (entries: unknown[], changes: object = {}, ask = inspector): Promise<EntryAnswer[]> => {
    const answer = await ask('POST', '/entries', batchExample(entries, changes))
    expect(answer.status).toBe(200)
    return answer.body.answers
  }
  const one = async (entry: unknown, changes: object = {}, ask = inspector) =>
    (await send([entry], changes, ask))[0]!
  const newTree = async () => (await officer('POST', '/trees', treeExample())).body.id as string
  const record = async (id = treeId) => (await officer('GET', `/trees/${id}`)).body
  const rowsOf = async (table: string) =>
    (
      (await harness.deps.database.db.execute(
        sql`select count(*)::int as n from ${sql.identifier(table)}`,
      )) as unknown as { n: number }[]
    )[0]!.n

  beforeAll(async () => {
    harness = await startHarness(kind)
    inspector = await harness.as('inspector')
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())
  beforeEach(async () => {
    treeId = await newTree()
  })

  it('puts an entry on record once, however often it comes, and answers the same', async () => {
    const entry = entryExample('closing', closingExample(visitExample(treeId)))
    const first = await one(entry)
    expect(first).toMatchObject({ key: entry.key, verdict: 'taken', again: false, refusals: [] })
    const before = await rowsOf('rating')
    for (let i = 0; i < 4; i++) expect(await one(entry)).toEqual({ ...first, again: true })
    const [twice, again] = await send([entry, entry])
    expect([twice!.again, again!.again]).toEqual([true, true])
    expect(await rowsOf('rating')).toBe(before)
    expect((await record()).visits).toHaveLength(1)
  })

  it('takes an entry once that is sent several times at once', async () => {
    const entry = entryExample('failure', failure(treeId))
    const answers = await Promise.all(Array.from({ length: 5 }, () => one(entry)))
    expect(answers.map((answer) => answer.verdict)).toEqual(Array(5).fill('taken'))
    expect(answers.filter((answer) => !answer.again)).toHaveLength(1)
    expect((await record()).failures).toHaveLength(1)
  })

  it('refuses another content under a key that is on record', async () => {
    const entry = entryExample('failure', failure(treeId))
    await one(entry)
    const other = await one({ ...entry, body: failure(treeId) })
    expect([other.verdict, codes(other)]).toEqual(['refused', ['entry-key-reused']])
    expect((await record()).failures).toHaveLength(1)
    // The order of members is no content.
    const turned = Object.fromEntries(Object.entries(entry.body as object).reverse())
    expect(await one({ ...entry, body: turned })).toMatchObject({ verdict: 'taken', again: true })
  })

  it('keeps nothing of a refused entry, so that a mended one may use its key', async () => {
    const visit = visitExample(treeId)
    const entry = entryExample('closing', closingExample({ ...visit, steps: visit.steps.slice(1) }))
    const refused = await one(entry)
    expect([refused.verdict, codes(refused)]).toEqual(['refused', ['visit-step-unanswered']])
    expect((await record()).visits).toHaveLength(0)
    expect((await one({ ...entry, body: closingExample(visit) })).verdict).toBe('taken')
  })

  it('lets no entry block those beside it, whatever it is', async () => {
    const good = () => entryExample('failure', failure(treeId))
    await harness.deps.database.db.execute(sql`
      create or replace function fail_here() returns trigger language plpgsql as
      $$ begin if new.note = 'poison' then raise exception 'the disk is full'; end if; return new; end $$`)
    await harness.deps.database.db.execute(
      sql`create or replace trigger fail_here before insert on failure for each row execute function fail_here()`,
    )
    const poison = entryExample('failure', failure(treeId, { note: 'poison' }))
    const logged = vi.spyOn(console, 'error').mockImplementation(() => {})
    const answers = await send([
      good(),
      poison,
      null,
      { key: 'no key', kind: 'failure' },
      entryExample('song', {}),
      entryExample('__proto__', {}),
      entryExample('failure', failure(treeId, { gustMps: 'strong' })),
      entryExample('failure', failure(treeId, { note: 'half a \ud83c' })),
      good(),
    ])
    expect(answers.map((answer) => [answer.verdict, ...codes(answer)])).toEqual([
      ['taken'],
      ['later', 'internal-fault'],
      ['refused', 'malformed'],
      ['refused', 'malformed', 'required', 'required', 'required', 'required'],
      ['refused', 'entry-kind-unknown'],
      ['refused', 'entry-kind-unknown'],
      ['refused', 'malformed'],
      ['refused', 'file-not-text'],
      ['taken'],
    ])
    expect(answers[6]!.refusals[0]!.path).toBe('gustMps')
    expect(logged).toHaveBeenCalledOnce()
    logged.mockRestore()
    await harness.deps.database.db.execute(sql`drop trigger fail_here on failure`)
    expect(await one(poison)).toMatchObject({ verdict: 'taken', again: false })
  })

  it('waits for what an entry stands on, and finds it further down in the same batch', async () => {
    const found = treeExample()
    const id = randomUUID()
    const visit = visitExample(id)
    const closing = entryExample('closing', closingExample(visit))
    const alone = await one(closing)
    expect([alone.verdict, codes(alone)]).toEqual(['later', ['owner-missing']])
    const answers = await send([
      entryExample('urgent-note', note(id)),
      closing,
      entryExample('found-tree', { id, tree: found, stop: null, fallen: null }),
    ])
    expect(answers.map((answer) => answer.verdict)).toEqual(['taken', 'taken', 'taken'])
    expect((await record(id)).visits).toHaveLength(1)
  })

  it('refuses a batch that it cannot read and takes none of it', async () => {
    const entries = Array.from({ length: 51 }, () => entryExample('failure', failure(treeId)))
    expect((await inspector('POST', '/entries', batchExample(entries))).status).toBe(400)
    expect((await inspector('POST', '/entries', batchExample([], { sentAt: 'noon' }))).status).toBe(400)
    const heavy = entryExample('failure', failure(treeId, { note: 'x'.repeat(9_000_000) }))
    expect((await inspector('POST', '/entries', batchExample([heavy]))).status).toBe(413)
    expect((await harness.stranger('POST', '/entries', batchExample([]))).status).toBe(401)
    expect((await record()).failures).toHaveLength(0)
  })

  it('says which keys are not on record, and how far the office has come', async () => {
    const entry = entryExample('failure', failure(treeId))
    const before = (await inspector('POST', '/entries', batchExample([]))).body.officeMark
    const after = (await inspector('POST', '/entries', batchExample([entry]))).body.officeMark
    expect(after).toBeGreaterThan(before)
    const other = randomUUID()
    const { body } = await inspector('POST', '/entries/known', { keys: [entry.key, other] })
    expect(body).toEqual({ missing: [other], officeMark: after })
    const many = { keys: Array.from({ length: 1001 }, () => randomUUID()) }
    expect((await inspector('POST', '/entries/known', many)).status).toBe(400)
  })

  it('lets an entry of a newer form stay on its phone', async () => {
    const [first, second] = await send([entryExample('failure', failure(treeId)), { strange: true }], {
      format: entryFormat + 1,
    })
    expect([first!.verdict, codes(first!), codes(second!)]).toEqual([
      'refused',
      ['entry-format-unknown'],
      ['entry-format-unknown'],
    ])
  })
})
