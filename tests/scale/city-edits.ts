/** What one edit of a tree or a zone takes over the records of a whole city, until all that follows from it is stored. */
import { openDatabase, type Session, tables } from '@underbough/db'
import { seededNumbers, type TreeInput, treeInput, type ZoneInput, zoneInput } from '@underbough/model'
import { and, eq, sql } from 'drizzle-orm'
import type { Deps, Person } from '../../apps/server/src/http/context.ts'
import { createJobs } from '../../apps/server/src/jobs/jobs.ts'
import { works } from '../../apps/server/src/jobs/works.ts'
import { organisationById } from '../../apps/server/src/session/queries.ts'
import { treeById } from '../../apps/server/src/trees/queries.ts'
import { changeTree } from '../../apps/server/src/trees/service.ts'
import { zoneById } from '../../apps/server/src/zones/queries.ts'
import { changeZone } from '../../apps/server/src/zones/service.ts'
import type { City } from './make-city.ts'
import type { BenchRow } from './row.ts'

export async function editRows(city: City, edits: number): Promise<BenchRow[]> {
  const database = await openDatabase({ url: city.url })
  const deps = { database, now: () => new Date('2026-11-25T12:00:00Z') } as Deps
  deps.jobs = await createJobs(database, works(deps))
  const organisation = await organisationById(database.db, city.organisationId)
  const person = {
    personId: 'officer',
    name: 'The officer',
    organisation,
    role: 'officer',
  } as unknown as Person
  try {
    return [
      ...(await timed('tree', edits, (random) => editTree(deps, person, random))),
      ...(await timed('zone', Math.ceil(edits / 2), (random) => editZone(deps, person, random))),
    ]
  } finally {
    await deps.jobs.close()
    await database.close()
  }
}

type Edit = (random: () => number) => Promise<() => Promise<string>>

/** The first edits warm the caches and are left out. */
async function timed(what: string, edits: number, edit: Edit): Promise<BenchRow[]> {
  const random = seededNumbers(77)
  const ms: number[] = []
  let said = ''
  for (let i = -5; i < edits; i++) {
    const work = await edit(random)
    const before = performance.now()
    said = await work()
    if (i >= 0) ms.push(performance.now() - before)
  }
  ms.sort((a, b) => a - b)
  const at = (share: number) => ms[Math.min(ms.length - 1, Math.floor(share * ms.length))]!
  const note = `${edits} edits; ${said}`
  return [
    { case: `one ${what} edited, p50`, figure: at(0.5), unit: 'ms', note },
    { case: `one ${what} edited, p95`, figure: at(0.95), unit: 'ms', note: `at most ${at(1).toFixed(0)} ms` },
  ]
}

async function editTree(deps: Deps, person: Person, random: () => number) {
  const { db } = deps.database
  const id = await anyOf(db, 'tree', random)
  const tree = (await treeById(db, person.organisation.id, id))!
  const input: TreeInput = treeInput.parse({ ...tree, heightM: 6 + 16 * random() })
  return async () => {
    await changeTree(deps, person, id, tree.version, input)
    return follows(deps, person.organisation.id, id)
  }
}

async function editZone(deps: Deps, person: Person, random: () => number) {
  const { db } = deps.database
  const id = await anyOf(db, 'zone', random)
  const zone = (await zoneById(db, person.organisation.id, id))!
  const people = 1 + Math.round(9 * random())
  const input: ZoneInput = zoneInput.parse({
    ...zone,
    occupancyWord: 'frequent',
    occupancy: { kind: 'class', word: 'frequent', peopleWhenPresent: people },
  })
  return async () => {
    await changeZone(deps, person, id, { ...input, version: zone.version })
    const over = await deps.database.db.$count(tables.exposureZone, eq(tables.exposureZone.zoneId, id))
    return `the last had ${over} trees over it`
  }
}

/** Seeded: the first identifier from a random one on. */
async function anyOf(db: Session, table: 'tree' | 'zone', random: () => number): Promise<string> {
  const from = `${Math.floor(random() * 2 ** 32)
    .toString(16)
    .padStart(8, '0')}-0000-4000-8000-000000000000`
  const [row] = await db.execute<{ id: string }>(sql`
    select id from ${sql.raw(table)} where id >= ${from}
      and organisation_id = (select id from organisation limit 1) ${sql.raw(table === 'tree' ? "and status = 'standing'" : '')}
    order by organisation_id, id limit 1`)
  return row!.id
}

/** Reads back what must be right by now: figures, date and mark, and no job left over. */
async function follows({ database }: Deps, organisationId: string, id: string): Promise<string> {
  const { exposure, treeState } = tables
  const [row] = await database.db
    .select({ at: exposure.computedAt, due: treeState.dueOn })
    .from(exposure)
    .innerJoin(
      treeState,
      and(eq(treeState.organisationId, exposure.organisationId), eq(treeState.treeId, exposure.treeId)),
    )
    .where(and(eq(exposure.organisationId, organisationId), eq(exposure.treeId, id)))
  if (row?.at !== '2026-11-25T12:00:00.000Z' || !row.due) throw new Error(`Tree ${id} was left behind.`)
  return 'figures, date and mark read back'
}
