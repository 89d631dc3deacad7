import { randomUUID } from 'node:crypto'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { lampGreen, point, storeTree } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const codeOf = (answer: { status: number; body: { refusals: { code: string; path: string }[] } }) => [
  answer.status,
  answer.body.refusals[0]?.code,
  answer.body.refusals[0]?.path,
]

describe.each(databases)('works, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  let client: Ask
  let treeId: string
  let workId: string
  const work = (changes: object = {}) => ({
    id: randomUUID(),
    treeId,
    visitId: null,
    kind: 'remove',
    description: 'Take down the dead limb over the path.',
    dueOn: '2026-12-01',
    cost: 240,
    residualRisk: null,
    ...changes,
  })
  const decide = (ask: Ask, answer: string, more: object = {}) =>
    ask('POST', `/works/${workId}/decision`, {
      answer,
      on: '2026-11-25',
      reason: 'The budget of this year',
      ...more,
    })
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
    client = await harness.as('client')
  })
  afterAll(() => harness?.close())
  beforeEach(async () => {
    treeId = await storeTree(harness.deps.database, harness.organisationId, { position: point(lampGreen) })
    const proposed = await officer('POST', '/works', work())
    expect(proposed.status, JSON.stringify(proposed.body)).toBe(200)
    workId = proposed.body.id
  })
  const stored = async () =>
    (await officer('GET', '/works')).body.works.find((w: { work: { id: string } }) => w.work.id === workId)

  it('stands proposed until the owner answers: accepted, refused or deferred, with name, day and reason', async () => {
    expect((await stored()).work).toMatchObject({ state: 'proposed', decision: null })
    for (const [answer, state] of [
      ['deferred', 'proposed'],
      ['refused', 'refused'],
      ['accepted', 'approved'],
    ]) {
      const decided = await decide(client, answer!)
      expect(decided.status, JSON.stringify(decided.body)).toBe(200)
      const { work, tree } = await stored()
      expect(work).toMatchObject({
        state,
        decision: { answer, by: 'The client', on: '2026-11-25', reason: 'The budget of this year' },
      })
      expect(tree.id).toBe(treeId)
    }
    expect((await decide(officer, 'refused', { by: 'The harbour board' })).body.decision.by).toBe(
      'The harbour board',
    )
    expect((await decide(client, 'perhaps')).status).toBe(400)
  })

  it('is done on a day, and a later answer does not undo it', async () => {
    const say = (ask: Ask, body: object) => ask('PUT', `/works/${workId}`, body)
    expect(codeOf(await say(officer, { state: 'done', doneOn: null, doneBy: 'Own crew' }))).toEqual([
      400,
      'required',
      'doneOn',
    ])
    expect((await stored()).work.state).toBe('proposed')
    expect((await say(client, { state: 'done', doneOn: '2026-11-25', doneBy: null })).status).toBe(403)
    expect(
      (await say(officer, { state: 'done', doneOn: '2026-11-25', doneBy: 'Own crew' })).body,
    ).toMatchObject({
      state: 'done',
      doneOn: '2026-11-25',
      doneBy: 'Own crew',
    })
    expect((await decide(client, 'refused')).body.state).toBe('done')
    // No longer done: the day goes with it.
    expect(
      (await say(officer, { state: 'approved', doneOn: '2026-11-25', doneBy: null })).body.doneOn,
    ).toBeNull()
  })

  it('is stored once however often it is sent, and asks for a tree that is here', async () => {
    const once = work()
    for (let i = 0; i < 2; i++) expect((await officer('POST', '/works', once)).status).toBe(200)
    const { works } = (await officer('GET', `/trees/${treeId}`)).body
    expect(works.map((w: { id: string }) => w.id).toSorted()).toEqual([once.id, workId].toSorted())
    expect(codeOf(await officer('POST', '/works', work({ treeId: randomUUID() })))).toEqual([
      404,
      'unknown',
      'treeId',
    ])
    expect((await client('POST', '/works', work())).status).toBe(403)
    expect(
      codeOf(
        await officer('PUT', `/works/${randomUUID()}`, { state: 'approved', doneOn: null, doneBy: null }),
      ),
    ).toEqual([404, 'unknown', 'id'])
  })
})
