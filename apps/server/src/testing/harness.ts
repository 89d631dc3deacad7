import { randomUUID } from 'node:crypto'
import { rmSync } from 'node:fs'
import { type ServerType, serve } from '@hono/node-server'
import { type Database, openDatabase, tables } from '@underbough/db'
import type { Role } from '@underbough/model'
import postgres from 'postgres'
import { createApp } from '../app.ts'
import { ensureDemo } from '../demo.ts'
import type { Deps } from '../http/context.ts'
import { createJobs } from '../jobs/jobs.ts'
import { works } from '../jobs/works.ts'
import { addAccount, createAuth } from '../session/auth.ts'
import { copyOfIsland } from './island.ts'

const ADMIN = process.env.UNDERBOUGH_TEST_POSTGRES ?? 'postgres://postgres@127.0.0.1:5432/postgres'
const ORIGIN = 'http://127.0.0.1'

/** The databases that the API specs run on: the embedded one always, PostgreSQL where one answers (tests/run.mjs says so, and in CI it must). */
export const databases = (process.env.UNDERBOUGH_TEST_DATABASES ?? 'embedded,postgresql').split(
  ',',
) as Database['kind'][]

/** A response with its body read: `status` and JSON (or text) `body`. */
export interface Answer {
  status: number
  // biome-ignore lint/suspicious/noExplicitAny: a test looks into whatever came back
  body: any
  headers: Headers
}
/** Asks the API as one signed-in person; a form or bytes go as they are, everything else as JSON. */
export type Ask = (method: string, path: string, body?: unknown) => Promise<Answer>

export interface Harness {
  deps: Deps
  organisationId: string
  /** A client signed in with the role; each role has one person. */
  as(role: Role): Promise<Ask>
  /** Serves the whole program on a free loopback port, as a browser sees it; answers its address. */
  listen(webFolder: string): Promise<string>
  /** A client that nobody signed in. */
  stranger: Ask
  close(): Promise<void>
}

/**
 * A whole server in this process, without a port: on an empty database with one organisation and one person of each role, or,
 * with `demo`, on the demo island and its people.
 */
export async function startHarness(
  kind: Database['kind'],
  now = new Date('2026-11-25T12:00:00Z'),
  { demo = false } = {},
): Promise<Harness> {
  const { database, drop } = await (demo ? islandOf(kind, now) : freshDatabase(kind))
  const deps = await depsOf(database, now)
  const organisationId = demo ? await anyOrganisation(database) : await addOrganisation(database)
  const app = createApp(deps)
  const client =
    (cookie?: string): Ask =>
    async (method, path, body) => {
      const asIs = body instanceof FormData || body instanceof Uint8Array
      const response = await app.request(`/api${path}`, {
        method,
        headers: {
          host: '127.0.0.1',
          ...(cookie ? { cookie } : {}),
          ...(body instanceof Uint8Array ? { 'content-type': 'application/octet-stream' } : {}),
          ...(body && !asIs ? { 'content-type': 'application/json' } : {}),
        },
        body: asIs ? (body as BodyInit) : body === undefined ? undefined : JSON.stringify(body),
      })
      const type = response.headers.get('content-type') ?? ''
      const read = type.includes('json')
        ? response.json()
        : type.startsWith('text/')
          ? response.text()
          : response.arrayBuffer()
      return { status: response.status, body: await read, headers: response.headers }
    }
  const signedIn = new Map<Role, Ask>()
  let server: ServerType | null = null
  return {
    deps,
    organisationId,
    listen: (webFolder) =>
      new Promise((resolve) => {
        server = serve(
          { fetch: createApp(deps, webFolder).fetch, hostname: '127.0.0.1', port: 0 },
          ({ port }) => resolve(`http://127.0.0.1:${port}`),
        )
      }),
    stranger: client(),
    async as(role) {
      const known = signedIn.get(role)
      if (known) return known
      const answer = await client()('POST', '/session', {
        email: `${role}@portmaud.example`,
        password: 'a long enough word',
      })
      const ask = client(answer.headers.getSetCookie()[0]!.split(';')[0]!)
      signedIn.set(role, ask)
      return ask
    },
    async close() {
      server?.close()
      await deps.jobs.close()
      await database.close()
      await drop()
    },
  }
}

async function depsOf(database: Database, now: Date): Promise<Deps> {
  const auth = createAuth(database, 'a secret for tests only, thirty-two letters', ORIGIN)
  const deps = { database, auth, now: () => now } as Deps
  deps.jobs = await createJobs(database, works(deps))
  return deps
}

async function anyOrganisation({ db }: Database): Promise<string> {
  const [row] = await db.select({ id: tables.organisation.id }).from(tables.organisation)
  return row!.id
}

async function loadIsland(database: Database, now: Date) {
  const deps = await depsOf(database, now)
  await ensureDemo(deps)
  await deps.jobs.idle()
  await deps.jobs.close()
}

/** The demo island: loaded anew into PostgreSQL; in the embedded database a copy of one that was loaded before. */
async function islandOf(kind: Database['kind'], now: Date) {
  if (kind !== 'embedded') {
    const fresh = await freshDatabase(kind)
    await loadIsland(fresh.database, now)
    return fresh
  }
  const dataDir = await copyOfIsland(now, (database) => loadIsland(database, now))
  return {
    database: await openDatabase({ dataDir }),
    drop: async () => rmSync(dataDir, { recursive: true, force: true }),
  }
}

async function freshDatabase(kind: Database['kind']) {
  if (kind === 'embedded') return { database: await openDatabase({}), drop: async () => {} }
  const name = `underbough_test_${randomUUID().slice(0, 8)}`
  const admin = postgres(ADMIN, { max: 1, onnotice: () => {} })
  await admin.unsafe(`create database ${name}`)
  const url = new URL(ADMIN)
  url.pathname = `/${name}`
  return {
    database: await openDatabase({ url: url.href }),
    drop: async () => {
      await admin.unsafe(`drop database ${name} with (force)`)
      await admin.end()
    },
  }
}

async function addOrganisation(database: Database): Promise<string> {
  const id = randomUUID()
  await database.db.insert(tables.organisation).values({
    id,
    name: 'Port Maud',
    timeZone: 'Atlantic/St_Helena',
    hemisphere: 'south',
    stemHeightM: 1.3,
    units: 'metric',
    failureTimeFrameYears: 3,
  })
  for (const role of ['manager', 'officer', 'inspector', 'client'] as const) {
    await addAccount(database, {
      id: `${role}-1`,
      name: `The ${role}`,
      email: `${role}@portmaud.example`,
      password: 'a long enough word',
    })
    await database.db.insert(tables.membership).values({ organisationId: id, personId: `${role}-1`, role })
  }
  return id
}
