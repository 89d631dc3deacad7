import { createHash, randomUUID } from 'node:crypto'
import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Database, openDatabase, tables } from '@underbough/db'
import { type Position, planeAt } from '@underbough/model'
import { asc, sql } from 'drizzle-orm'
import postgres from 'postgres'
import { recomputeDue } from '../../apps/server/src/due/service.ts'
import { recomputeExposure } from '../../apps/server/src/exposure/service.ts'
import type { Deps } from '../../apps/server/src/http/context.ts'
import { addAccount } from '../../apps/server/src/session/auth.ts'

const ADMIN = process.env.UNDERBOUGH_TEST_POSTGRES ?? 'postgres://postgres@127.0.0.1:5432/postgres'
const corner: Position = [-8.25, -31.67]
export const password = 'a long enough word'
const accounts = ['officer', 'inspector', 'second'] as const
/** Who can sign in: an officer, an inspector, and a second inspector. Each is known by this word, in records too. */
export type Account = (typeof accounts)[number]
export const emailOf = (account: Account) => `${account}@portmaud.example`

/** A database made ready once and copied for every round. */
export interface Ground {
  kind: Database['kind']
  trees: number
  /** Digest of who is under each tree, worked out once without a fault. */
  exposureDigest: string
  /** A copy of the database for one round, and the environment in which a server finds it. */
  copy(): Promise<Copy>
  remove(): Promise<void>
}
export interface Copy {
  env: Record<string, string>
  /** Opens the database itself; the server must be down. */
  open(): Promise<Database>
  /** Keeps a copy of the whole database, as a nightly one does; the server must be down. */
  keep(): Promise<void>
  /** Puts back what was kept; the server must be down. */
  putBack(): Promise<void>
  /** Makes the marks of a dead process a minute older, so that nobody need wait for it. The embedded database does not ask. */
  age(): Promise<void>
  remove(): Promise<void>
}

/**
 * Makes a small inventory: trees in rows, eight metres apart unless said otherwise, with zones among them, an officer and two inspectors. What else a
 * fault needs is put in by `more`.
 */
export async function prepare(
  kind: Database['kind'],
  trees: number,
  more?: (database: Database, organisationId: string) => Promise<void>,
  apartM = 8,
): Promise<Ground> {
  const folder = mkdtempSync(join(tmpdir(), 'underbough-faults-'))
  const name = `underbough_faults_${randomUUID().slice(0, 8)}`
  const admin = kind === 'postgresql' ? postgres(ADMIN, { max: 1, onnotice: () => {} }) : null
  const urlOf = (database: string) => Object.assign(new URL(ADMIN), { pathname: `/${database}` }).href
  if (admin) await admin.unsafe(`create database ${name}`)
  const template = join(folder, 'template')
  const database = await openDatabase(admin ? { url: urlOf(name) } : { dataDir: join(template, 'embedded') })
  const { exposureDigest, organisationId } = await fill(database, trees, apartM)
  await more?.(database, organisationId)
  await database.close()
  let copies = 0
  return {
    kind,
    trees,
    exposureDigest,
    async copy() {
      const own = join(folder, String(++copies))
      const copied = `${name}_${copies}`
      if (admin) await admin.unsafe(`create database ${copied} template ${name}`)
      if (admin) mkdirSync(own)
      else cpSync(template, own, { recursive: true })
      const where = admin ? { url: urlOf(copied) } : { dataDir: join(own, 'embedded') }
      return {
        env: {
          UNDERBOUGH_DATA: own,
          DATABASE_URL: admin ? urlOf(copied) : '',
          UNDERBOUGH_DEMO: 'no',
          UNDERBOUGH_SECRET: 'a secret for tests only, thirty-two letters',
        },
        open: () => openDatabase(where),
        async keep() {
          if (admin) await admin.unsafe(`create database ${copied}_kept template ${copied}`)
          else cpSync(own, `${own}-kept`, { recursive: true })
        },
        async putBack() {
          if (admin) {
            await admin.unsafe(`drop database ${copied} with (force)`)
            await admin.unsafe(`create database ${copied} template ${copied}_kept`)
          } else {
            rmSync(own, { recursive: true })
            cpSync(`${own}-kept`, own, { recursive: true })
          }
        },
        async age() {
          if (!admin) return
          const sql = postgres(urlOf(copied), { max: 1 })
          await sql`update job set marked_at = marked_at - interval '1 minute', started_at = started_at - interval '1 minute' where ended_at is null`
          await sql`update exposure_tile set claimed_at = claimed_at - interval '1 minute'`
          await sql.end()
        },
        async remove() {
          for (const one of [copied, `${copied}_kept`])
            if (admin) await admin.unsafe(`drop database if exists ${one} with (force)`)
          for (const one of [own, `${own}-kept`]) rmSync(one, { recursive: true, force: true })
        },
      }
    },
    async remove() {
      if (admin) await admin.unsafe(`drop database ${name} with (force)`)
      await admin?.end()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

/** Row and column of a tree, so many metres apart, fifty to a row. */
const spot = (i: number, apartM = 8): Position =>
  planeAt(...corner).toDegrees((i % 50) * apartM, Math.floor(i / 50) * apartM)

async function fill(
  database: Database,
  trees: number,
  apartM: number,
): Promise<{ exposureDigest: string; organisationId: string }> {
  const organisation = {
    id: randomUUID(),
    name: 'Port Maud',
    timeZone: 'Atlantic/St_Helena',
    hemisphere: 'south' as const,
    stemHeightM: 1.3,
    units: 'metric' as const,
    failureTimeFrameYears: 3,
  }
  const organisationId = organisation.id
  const { db } = database
  await db.insert(tables.organisation).values(organisation)
  for (const id of accounts) {
    await addAccount(database, { id, name: `The ${id}`, email: emailOf(id), password })
    const role = id === 'officer' ? 'officer' : 'inspector'
    await db.insert(tables.membership).values({ organisationId, personId: id, role })
  }
  const all = Array.from({ length: trees }, (_, i) => ({
    organisationId,
    id: randomUUID(),
    tag: `S${String(i).padStart(5, '0')}`,
    species: 'Tilia cordata',
    stems: [{ diameterCm: 30 + (i % 40), measuredAtM: 1.3 }],
    stemDiameterCm: 30 + (i % 40),
    heightM: 8 + (i % 13),
    enteredOn: '2026-11-01',
    position: { type: 'Point', coordinates: spot(i, apartM) },
  }))
  for (let at = 0; at < trees; at += 500) await db.insert(tables.tree).values(all.slice(at, at + 500))
  await db.insert(tables.zone).values(
    Array.from({ length: Math.ceil(trees / 50) }, (_, row) => {
      const ring = [0, 49, 99, 50, 0].map((i) => spot(50 * row + i, apartM))
      return {
        organisationId,
        id: randomUUID(),
        name: `Path ${row + 1}`,
        kind: 'footpath' as const,
        geometry: { type: 'Polygon' as const, coordinates: [ring] },
        occupancyWord: 'frequent' as const,
        occupancy: { kind: 'class' as const, word: 'frequent' as const, peopleWhenPresent: 2 },
        staticTarget: false,
        note: '',
        areaM2: 49 * apartM * apartM,
      }
    }),
  )
  await database.transaction((tx) => recomputeDue(tx, organisation, null))
  await recomputeExposure(
    { database, now: () => new Date() } as Deps,
    organisationId,
    all.map(({ id }) => id),
  )
  const exposureDigest = await digestOfExposure(database)
  await db.delete(tables.exposureZone)
  await db.delete(tables.exposure)
  return { exposureDigest, organisationId }
}

/** One digest over who is under which tree and how many. */
export async function digestOfExposure({ db }: Database): Promise<string> {
  const { exposure, exposureZone } = tables
  const figures = await db
    .select({
      treeId: exposureZone.treeId,
      zoneId: exposureZone.zoneId,
      people: exposureZone.people,
      touch: exposureZone.pTouch,
    })
    .from(exposureZone)
    .orderBy(asc(exposureZone.treeId), asc(exposureZone.zoneId))
  const [row] = await db.select({ n: sql<number>`count(*)::int` }).from(exposure)
  return createHash('sha256')
    .update(JSON.stringify([row!.n, figures]))
    .digest('hex')
}

/** A list to bring in: as many rows as asked for, north of the trees that are stored. */
export function listOf(rows: number): string {
  const lines = ['STRUCTID,COMMON_NAME,DBH_TRUNK,geometry']
  for (let i = 0; i < rows; i++) {
    const at = JSON.stringify({ type: 'Point', coordinates: spot(100_000 + i) }).replaceAll('"', '""')
    lines.push(`PM-${i},"Lime, small-leaved",${20 + (i % 60)},"${at}"`)
  }
  return lines.join('\n')
}
