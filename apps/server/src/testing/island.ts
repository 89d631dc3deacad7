import { createHash } from 'node:crypto'
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { type Database, openDatabase } from '@underbough/db'

const root = fileURLToPath(new URL('../../../..', import.meta.url))
const sources = [
  'apps/server/src',
  'packages',
  'db/src',
  'db/migrations',
  'fixtures/src',
  'package-lock.json',
]
const kept = join(tmpdir(), `underbough-island-${process.getuid?.() ?? 0}`)
const UNUSED_MS = 3_600_000

/**
 * A folder of its own with the demo island in the embedded database, as it is at `now`. Loading takes a minute of work, so that it is
 * done once for each state of the sources and kept in the system's temporary folder; what nobody used for an hour is cleared.
 */
export async function copyOfIsland(now: Date, load: (database: Database) => Promise<void>): Promise<string> {
  const path = join(kept, `${digestOfSources()}-${now.getTime()}`)
  if (!existsSync(path)) await make(path, load)
  utimesSync(path, new Date(), new Date())
  const own = mkdtempSync(join(tmpdir(), 'underbough-island-copy-'))
  cpSync(path, own, { recursive: true })
  return own
}

async function make(path: string, load: (database: Database) => Promise<void>) {
  mkdirSync(kept, { recursive: true, mode: 0o700 })
  for (const name of readdirSync(kept)) {
    const other = join(kept, name)
    if (Date.now() - statSync(other).mtimeMs > UNUSED_MS) rmSync(other, { recursive: true, force: true })
  }
  const dataDir = mkdtempSync(`${path}.`)
  const database = await openDatabase({ dataDir })
  await load(database)
  await database.close()
  try {
    renameSync(dataDir, path)
  } catch (error) {
    // Another suite was sooner.
    if (!existsSync(path)) throw error
    rmSync(dataDir, { recursive: true, force: true })
  }
}

/** Of all that an island is loaded by: another state of it loads another island. */
function digestOfSources(): string {
  const digest = createHash('sha256')
  const take = (path: string) => {
    if (statSync(path).isDirectory()) {
      for (const name of readdirSync(path).sort()) if (name !== 'node_modules') take(join(path, name))
    } else if (!/\.spec\.tsx?$/.test(path)) digest.update(path).update(readFileSync(path))
  }
  for (const source of sources) take(join(root, source))
  return digest.digest('hex').slice(0, 16)
}
