import { randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { batchExample, entryExample, treeExample } from '../testing/bodies.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

describe.each(databases)('two versions of one tree, on %s', (kind) => {
  let harness: Harness
  let inspector: Ask
  let officer: Ask
  const entered = treeExample()
  let treeId: string
  /** The office corrected the species; the inspector, without signal, measured the height and wrote a note. */
  const atOffice = () => ({ ...entered, tag, species: 'Fagus sylvatica f. purpurea' })
  const inField = () => ({ ...entered, tag, heightM: 27, note: 'Measured with a clinometer' })
  let tag: string

  beforeAll(async () => {
    harness = await startHarness(kind)
    inspector = await harness.as('inspector')
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())
  beforeEach(async () => {
    tag = `T${randomUUID().slice(0, 8)}`
    treeId = (await officer('POST', '/trees', { ...entered, tag })).body.id
    expect((await officer('PUT', `/trees/${treeId}`, { ...atOffice(), version: 1 })).status).toBe(200)
  })

  const change = async (tree: object, version: number) =>
    (
      await inspector(
        'POST',
        '/entries',
        batchExample([entryExample('tree-change', { treeId, version, tree })]),
      )
    ).body.answers[0]
  const tree = async () => (await officer('GET', `/trees/${treeId}`)).body.tree
  const open = async () =>
    (await officer('GET', '/second-versions?open=true')).body.versions.filter(
      (one: { version: { subjectId: string } }) => one.version.subjectId === treeId,
    )
  const choose = (id: string, take: unknown, version = 2, ask = officer) =>
    ask('POST', `/second-versions/${id}/choose`, { take, version })

  it('writes a change over the version it was made from', async () => {
    expect(await change({ ...atOffice(), heightM: 27 }, 2)).toMatchObject({
      verdict: 'taken',
      answer: { version: 3, heightM: 27 },
    })
    expect(await open()).toEqual([])
  })

  it('overwrites nothing where somebody else was first, and shows both', async () => {
    const answer = await change(inField(), 1)
    expect(answer).toMatchObject({ verdict: 'beside', answer: { current: { species: atOffice().species } } })
    expect(await tree()).toMatchObject({ ...atOffice(), version: 2 })
    expect(await open()).toMatchObject([
      {
        version: {
          id: answer.answer.secondVersionId,
          kind: 'tree',
          fromVersion: 1,
          offered: inField(),
          personName: 'The inspector',
          madeAt: '2026-11-25T10:00:00.000Z',
          state: 'open',
        },
        stored: { ...atOffice(), version: 2 },
      },
    ])
  })

  it('has nothing to choose between where both say the same', async () => {
    expect(await change(atOffice(), 1)).toMatchObject({ verdict: 'taken', answer: { version: 2 } })
    expect(await open()).toEqual([])
  })

  it('writes what the office chooses, field by field, and keeps what it replaced', async () => {
    const { secondVersionId } = (await change(inField(), 1)).answer
    const chosen = await choose(secondVersionId, { heightM: 'offered', species: 'stored' })
    expect([chosen.status, chosen.body.version]).toEqual([200, 3])
    expect(await tree()).toMatchObject({ ...atOffice(), heightM: 27, note: '', version: 3 })
    const [row] = await harness.deps.database.db
      .select()
      .from(tables.secondVersion)
      .where(eq(tables.secondVersion.id, secondVersionId))
    expect(row).toMatchObject({
      state: 'chosen',
      chosenBy: 'The officer',
      replaced: atOffice(),
      offered: inField(),
    })
    expect(await open()).toEqual([])
    const again = await choose(secondVersionId, 'offered', 3)
    expect([again.status, again.body.refusals[0].code]).toEqual([409, 'conflict'])
  })

  it('takes one of them whole', async () => {
    const first = (await change(inField(), 1)).answer.secondVersionId
    expect((await choose(first, 'offered')).body).toMatchObject({ ...inField(), version: 3 })
    const second = (await change({ ...inField(), heightM: 30 }, 1)).answer.secondVersionId
    expect((await choose(second, 'stored', 3)).body).toMatchObject({ ...inField(), version: 3 })
    expect(await open()).toEqual([])
  })

  it('refuses a choice made on a version that is the present one no more, or by somebody who may not', async () => {
    const { secondVersionId } = (await change(inField(), 1)).answer
    await officer('PUT', `/trees/${treeId}`, { ...atOffice(), heightM: 20, version: 2 })
    const late = await choose(secondVersionId, 'offered')
    expect([late.status, late.body.current.heightM]).toEqual([409, 20])
    expect((await choose(secondVersionId, 'stored')).status).toBe(409)
    expect(await open()).toHaveLength(1)
    expect((await choose(secondVersionId, 'offered', 3, inspector)).status).toBe(403)
    expect((await inspector('GET', '/second-versions')).status).toBe(403)
    expect((await choose(secondVersionId, { girth: 'offered' }, 3)).status).toBe(400)
    expect((await choose(randomUUID(), 'stored')).status).toBe(404)
  })
})
