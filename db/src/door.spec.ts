import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { afterAll, describe, expect, it } from 'vitest'
import { openDatabase } from './door.ts'

describe('the embedded database', () => {
  const folder = mkdtempSync(join(tmpdir(), 'underbough-door-'))
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  it('keeps rows over a restart, takes its folder for itself, and rolls a failed transaction back', async () => {
    const first = await openDatabase({ dataDir: folder })
    expect(first.kind).toBe('embedded')
    await first.sql`create table kept (id int primary key, place geometry(Point,4326))`
    await first.sql`insert into kept values (1, ST_SetSRID(ST_Point(-8.248, -31.67), 4326))`
    await expect(openDatabase({ dataDir: folder })).rejects.toThrow(/in use by process/)
    await expect(
      first.transaction(async (tx) => {
        await tx.execute(sql`insert into kept values (2, null)`)
        throw new Error('changed my mind')
      }),
    ).rejects.toThrow('changed my mind')
    await first.close()

    const second = await openDatabase({ dataDir: folder })
    const rows = await second.sql`select id, ST_X(place) x from kept`
    expect([...rows]).toEqual([{ id: 1, x: -8.248 }])
    await second.close()
  }, 60_000)

  it('makes a database anew that another process died while making', async () => {
    const half = mkdtempSync(join(tmpdir(), 'underbough-half-'))
    mkdirSync(join(half, 'pg'))
    writeFileSync(join(half, 'pg', 'PG_VERSION'), '')
    writeFileSync(join(half, 'making'), '')
    const made = await openDatabase({ dataDir: half })
    const [row] = await made.sql`select count(*)::int as n from tree`
    expect(row!.n).toBe(0)
    await made.close()
    rmSync(half, { recursive: true, force: true })
  }, 60_000)

  it('answers rightly after an error, statement by statement', async () => {
    const { sql: run, close } = await openDatabase({})
    await run`create table once (id int primary key)`
    await run`insert into once values (1)`
    await expect(run`insert into once values (1)`).rejects.toMatchObject({ code: '23505' })
    const results = await Promise.allSettled([
      run`select 1 as a`,
      run`select 1/${0}::int`,
      run`select 2 as b`,
    ])
    expect(results.map((r) => r.status)).toEqual(['fulfilled', 'rejected', 'fulfilled'])
    expect(results[2]).toMatchObject({ value: [{ b: 2 }] })
    await close()
  }, 60_000)

  it('says so when the outer database is used inside a transaction, instead of waiting for ever', async () => {
    const { db, transaction, close } = await openDatabase({})
    await expect(transaction(async () => void (await db.execute(sql`select 1`)))).rejects.toThrow(
      /inside a transaction/,
    )
    await close()
  }, 60_000)
})
