import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { drizzle } from 'drizzle-orm/postgres-js'
import { migrate } from 'drizzle-orm/postgres-js/migrator'
import postgres from 'postgres'
import { afterAll, describe, expect, it } from 'vitest'
import { openEmbedded } from './embedded/open.ts'

const all = fileURLToPath(new URL('../migrations', import.meta.url))

describe('migrations', () => {
  const until = mkdtempSync(join(tmpdir(), 'underbough-migrations-'))
  afterAll(() => rmSync(until, { recursive: true, force: true }))

  it('carry a reading from before labels and borders over, to the digit it was entered with', async () => {
    cpSync(all, until, { recursive: true })
    const journalPath = join(until, 'meta', '_journal.json')
    const journal = JSON.parse(readFileSync(journalPath, 'utf8')) as { entries: { tag: string }[] }
    journal.entries = journal.entries.filter(({ tag }) => tag < '0002')
    writeFileSync(journalPath, JSON.stringify(journal))
    const embedded = await openEmbedded({})
    const sql = postgres({
      max: 1,
      ssl: false,
      idle_timeout: 0,
      onnotice: () => {},
      socket: () => embedded.connect(),
    } as never)
    const id = (n: number) => `00000000-0000-4000-8000-00000000000${n}`
    try {
      await migrate(drizzle(sql), { migrationsFolder: until })
      await sql`insert into tree (organisation_id, id, tag, species, position, stems, entered_on)
        values (${id(1)}, ${id(2)}, '0417', 'Fagus sylvatica', ST_SetSRID(ST_Point(-8.248, -31.67), 4326), '[]', '2020-10-01')`
      await sql`insert into visit (organisation_id, id, tree_id, person_id, level, stage, started_at, weather, leaf_state, steps, could_not_see)
        values (${id(1)}, ${id(3)}, ${id(2)}, 'p', 3, 'closed', '2026-03-01T09:00:00Z', '', 'in-leaf', '[]', '')`
      await sql`insert into probe (organisation_id, id, visit_id, kind, height_m, entry_bearing_deg, direction_deg, instrument, reason, reading, note)
        values (${id(1)}, ${id(4)}, ${id(3)}, 'core', 2.1, 20.3, 200.7, 'Increment borer', 'Dull sound', '{"barkCm":1.6}', 'n')`
      await migrate(drizzle(sql), { migrationsFolder: all })
      const [row] = await sql`select * from probe`
      expect(row).toMatchObject({
        kind: 'core',
        height_m: 2.1,
        entry_bearing_deg: 20.3,
        direction_deg: 200.7,
        tilt_deg: 0,
        reason: 'Dull sound',
        reading: { barkCm: 1.6 },
        label: '',
        operator: '',
        instrument_condition: '',
        disinfected: null,
      })
    } finally {
      await sql.end({ timeout: 5 })
      await embedded.close()
    }
  }, 120_000)
})
