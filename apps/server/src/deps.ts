import { randomBytes } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { openDatabase } from '@underbough/db'
import { helpWithPasses } from './exposure/pass.ts'
import type { Deps } from './http/context.ts'
import { createJobs } from './jobs/jobs.ts'
import { works } from './jobs/works.ts'
import { createAuth } from './session/auth.ts'

/** Where everything lives that must outlast the process: UNDERBOUGH_DATA, or `.data` beside the program. */
export const dataFolder = resolve(
  process.env.UNDERBOUGH_DATA ?? fileURLToPath(new URL('../../../.data', import.meta.url)),
)

/** Opens the database that the environment names (DATABASE_URL, else the embedded one), sign-in and the job queue. */
export async function openDeps(baseURL: string): Promise<Deps> {
  const url = process.env.DATABASE_URL
  const database = await openDatabase(url ? { url } : { dataDir: join(dataFolder, 'embedded') })
  const deps = { database, auth: createAuth(database, secret(), baseURL), now: () => new Date() } as Deps
  deps.jobs = await createJobs(database, works(deps))
  return deps
}

/** Helps with the passes over all trees that other processes on the same database began; answers how to stop. */
export const helpOthers = (deps: Deps): (() => Promise<void>) =>
  deps.database.kind === 'postgresql' ? helpWithPasses(deps) : async () => {}

export async function closeDeps(deps: Deps) {
  await deps.jobs.close()
  await deps.database.close()
}

/** The key that signs cookies: UNDERBOUGH_SECRET, or one made once and kept readable by its owner alone. */
function secret(): string {
  if (process.env.UNDERBOUGH_SECRET) return process.env.UNDERBOUGH_SECRET
  const path = join(dataFolder, 'secret')
  if (!existsSync(path)) {
    mkdirSync(dataFolder, { recursive: true })
    writeFileSync(path, randomBytes(32).toString('hex'), { mode: 0o600 })
  }
  return readFileSync(path, 'utf8')
}
