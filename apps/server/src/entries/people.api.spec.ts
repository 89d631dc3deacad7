import { randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import type { Role } from '@underbough/model'
import { and, eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addAccount } from '../session/auth.ts'
import { batchExample, closingExample, entryExample, treeExample, visitExample } from '../testing/bodies.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

describe.each(databases)('whose entry it is, on %s', (kind) => {
  let harness: Harness
  let ask: Record<Role, Ask>
  let treeId: string
  beforeAll(async () => {
    harness = await startHarness(kind)
    const of = (role: Role) => harness.as(role)
    ask = {
      inspector: await of('inspector'),
      officer: await of('officer'),
      manager: await of('manager'),
      client: await of('client'),
    }
    treeId = (await ask.officer('POST', '/trees', treeExample())).body.id
  })
  afterAll(() => harness?.close())

  const closing = (authorId: string) =>
    entryExample('closing', closingExample(visitExample(treeId)), { authorId })
  const send = async (by: Role, entry: object) => {
    const [answer] = (await ask[by]('POST', '/entries', batchExample([entry]))).body.answers
    return `${answer.verdict} ${answer.refusals.map((one: { code: string }) => one.code)}`.trim()
  }
  const received = async (key: string) =>
    (
      await harness.deps.database.db
        .select({ authorId: tables.receivedEntry.authorId, sentBy: tables.receivedEntry.sentBy })
        .from(tables.receivedEntry)
        .where(eq(tables.receivedEntry.key, key))
    )[0]

  it("is its author's, whoever of the office sends it", async () => {
    for (const by of ['officer', 'manager'] as const) {
      const entry = closing('inspector-1')
      expect(await send(by, entry)).toBe('taken')
      const visit = (
        await ask.officer('GET', `/visits/${(entry.body as { visit: { id: string } }).visit.id}`)
      ).body
      expect(visit).toMatchObject({ personId: 'inspector-1', personName: 'The inspector', stage: 'closed' })
      expect(await received(entry.key)).toEqual({ authorId: 'inspector-1', sentBy: `${by}-1` })
    }
  })

  it('is not sent by just anybody, nor for nobody', async () => {
    expect(await send('inspector', closing('officer-1'))).toBe('refused forbidden')
    expect(await send('officer', closing('nobody-1'))).toBe('refused author-unknown')
    const elsewhere = randomUUID()
    const { db } = harness.deps.database
    await db.insert(tables.organisation).values({
      id: elsewhere,
      name: 'Elsewhere',
      timeZone: 'UTC',
      hemisphere: 'north',
      stemHeightM: 1.3,
      units: 'metric',
      failureTimeFrameYears: 3,
    })
    await addAccount(harness.deps.database, {
      id: 'theirs-1',
      name: 'Theirs',
      email: 'theirs@elsewhere.example',
      password: 'a long enough word',
    })
    await db
      .insert(tables.membership)
      .values({ organisationId: elsewhere, personId: 'theirs-1', role: 'inspector' })
    expect(await send('officer', closing('theirs-1'))).toBe('refused author-unknown')
  })

  it("is taken by the author's role, not by that of whoever sends it", async () => {
    expect(await send('client', closing('client-1'))).toBe('refused forbidden')
    expect(await send('officer', closing('client-1'))).toBe('refused forbidden')
    expect(await send('manager', closing('manager-1'))).toBe('refused forbidden')
    expect(await send('manager', closing('inspector-1'))).toBe('taken')
  })

  it('stays that of somebody who has left, who is signed out everywhere', async () => {
    const leaving = and(
      eq(tables.membership.organisationId, harness.organisationId),
      eq(tables.membership.personId, 'inspector-1'),
    )
    const ended = (on: string | null) =>
      harness.deps.database.db.update(tables.membership).set({ endedOn: on }).where(leaving)
    await ended('2026-11-24')
    expect((await ask.inspector('GET', '/session')).status).toBe(401)
    expect((await ask.inspector('POST', '/entries', batchExample([closing('inspector-1')]))).status).toBe(401)
    const entry = closing('inspector-1')
    expect(await send('officer', entry)).toBe('taken')
    expect(await received(entry.key)).toEqual({ authorId: 'inspector-1', sentBy: 'officer-1' })
    const visits = (await ask.officer('GET', `/trees/${treeId}`)).body.visits
    expect(visits.map((one: { personName: string }) => one.personName)).toContain('The inspector')
    const people = (await ask.officer('GET', '/people')).body
    expect(JSON.stringify(people)).not.toContain('inspector-1')
    await ended(null)
    expect((await ask.inspector('GET', '/session')).status).toBe(200)
  })
})
