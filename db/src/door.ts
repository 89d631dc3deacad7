import { AsyncLocalStorage } from 'node:async_hooks'
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { fileURLToPath } from 'node:url'
import { drizzle, type PostgresJsDatabase } from 'drizzle-orm/postgres-js'
import { migrate } from 'drizzle-orm/postgres-js/migrator'
import postgres from 'postgres'
import { lockFolder } from './embedded/lock.ts'
import { type Embedded, openEmbedded } from './embedded/open.ts'
import * as schema from './schema/index.ts'

export type Db = PostgresJsDatabase<typeof schema>
/** What queries take: the database itself or an open transaction. */
export type Session = Pick<
  Db,
  'select' | 'selectDistinct' | 'insert' | 'update' | 'delete' | 'execute' | '$count'
>

/** An open database with every migration applied. */
export interface Database {
  kind: 'embedded' | 'postgresql'
  db: Db
  sql: postgres.Sql
  /** One connection for the job queue, which opens transactions in plain SQL; the embedded database has only the one. */
  queueSql: postgres.Sql
  /** Runs `work` in one transaction. Using the outer `db` inside it would wait for itself for ever, so it throws instead. */
  transaction<T>(work: (tx: Session) => Promise<T>): Promise<T>
  close(): Promise<void>
}

/**
 * Writes rows in PostgreSQL's binary COPY format (`into`: table and columns) within an open transaction. The embedded database
 * takes no COPY.
 */
export async function copyInto(tx: Session, into: string, rows: Uint8Array): Promise<void> {
  const { session } = tx as unknown as { session: { client: postgres.TransactionSql } }
  const writable = await session.client.unsafe(`copy ${into} from stdin with (format binary)`).writable()
  await pipeline([rows], writable)
}

const migrationsFolder = fileURLToPath(new URL('../migrations', import.meta.url))

/**
 * Opens PostgreSQL (`url`) or the embedded database (`dataDir`, or memory when neither is given) and migrates it forward.
 * @throws Error when the folder is held by another process, or when the database cannot be reached.
 */
export async function openDatabase(options: { url?: string; dataDir?: string }): Promise<Database> {
  if (options.url) {
    // Compiling a query takes longer than running it, for all that this program asks, and so does waking workers for a small one.
    const connection = { jit: 'off', parallel_setup_cost: 20_000 }
    const sql = postgres(options.url, { max: 10, onnotice: () => {}, connection })
    const queueSql = postgres(options.url, { max: 1, onnotice: () => {} })
    // As drizzle does to the connection it wraps: JSON is handed over as text, or it would be written twice.
    for (const type of [114, 3802]) queueSql.options.serializers[type] = (value: unknown) => value
    return ready('postgresql', sql, queueSql, async () => {
      await queueSql.end({ timeout: 5 })
      await sql.end({ timeout: 5 })
    })
  }
  const release = options.dataDir ? lockFolder(options.dataDir) : () => {}
  try {
    const dataDir = options.dataDir && join(options.dataDir, 'pg')
    const making = options.dataDir && join(options.dataDir, 'making')
    // A process that died while it unpacked the template left half a database and nothing else.
    if (dataDir && making && existsSync(making)) rmSync(dataDir, { recursive: true, force: true })
    const fresh = !dataDir || !existsSync(dataDir)
    if (fresh && making)
      writeFileSync(making, 'The database is being made; if this stays, it will be made anew.')
    const snapshot = fresh ? await templateSnapshot() : undefined
    const embedded = await openEmbedded({ dataDir, snapshot })
    if (making) rmSync(making, { force: true })
    const sql = connect(embedded)
    return await ready('embedded', sql, sql, async () => {
      await sql.end({ timeout: 5 })
      await embedded.close()
      release()
    })
  } catch (error) {
    release()
    throw error
  }
}

/** The embedded database has one backend, so the driver gets one connection. */
function connect(embedded: Embedded): postgres.Sql {
  return postgres({
    host: 'embedded',
    username: 'postgres',
    database: 'postgres',
    max: 1,
    ssl: false,
    idle_timeout: 0,
    max_lifetime: null,
    onnotice: () => {},
    socket: () => embedded.connect(),
  } as postgres.Options<Record<string, never>>)
}

async function ready(
  kind: Database['kind'],
  sql: postgres.Sql,
  queueSql: postgres.Sql,
  close: () => Promise<void>,
): Promise<Database> {
  const inside = new AsyncLocalStorage<true>()
  const raw = drizzle(sql, { schema })
  await migrate(raw, { migrationsFolder })
  const db = new Proxy(raw, {
    get(target, key, receiver) {
      if (inside.getStore())
        throw new Error(`db.${String(key)} used inside a transaction: pass the transaction down instead`)
      return Reflect.get(target, key, receiver)
    },
  })
  return {
    kind,
    db,
    sql,
    queueSql,
    transaction: (work) => raw.transaction((tx) => inside.run(true, () => work(tx as unknown as Session))),
    close,
  }
}

/**
 * An empty, migrated database to start new ones from in a quarter of the time. Made once for each set of migrations and
 * kept in the system's temporary folder; it holds no records, so losing it costs ten seconds.
 */
async function templateSnapshot(): Promise<Uint8Array> {
  const digest = createHash('sha256')
  for (const name of readdirSync(migrationsFolder)
    .filter((name) => name.endsWith('.sql'))
    .sort())
    digest.update(name).update(readFileSync(join(migrationsFolder, name)))
  const folder = join(tmpdir(), `underbough-template-${process.getuid?.() ?? 0}`)
  const path = join(folder, `${digest.digest('hex').slice(0, 16)}.tar.gz`)
  if (existsSync(path)) return readFileSync(path)
  const embedded = await openEmbedded({})
  const sql = connect(embedded)
  await migrate(drizzle(sql, { schema }), { migrationsFolder })
  const snapshot = await embedded.dump()
  await sql.end({ timeout: 5 })
  await embedded.close()
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  writeFileSync(`${path}.${process.pid}`, snapshot)
  renameSync(`${path}.${process.pid}`, path)
  return snapshot
}
