import { randomUUID } from 'node:crypto'
import { sql } from 'drizzle-orm'
import { closingExample, visitExample } from '../../apps/server/src/testing/bodies.ts'
import type { Copy, Ground } from './ground.ts'
import { type Server, startServer } from './server.ts'

/** What one round found. `lost` names everything that should be there and is not, or is there by half. */
export interface Round {
  /** When the process died: before the work was over, or after. */
  died: 'at work' | 'after the end'
  lost: string[]
}
export interface Settings {
  ground: Ground
  /** Rows of the list that is brought in. */
  rows: number
  /** Milliseconds from the moment work began to be asked for until the process is killed. */
  killAfterMs: number
}
export type FaultCase = (settings: Settings) => Promise<Round>

export const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
const PATIENCE_MS = 180_000

/** Asks until the answer is wanted; throws when that takes too long. */
export async function until<T>(
  what: string,
  ask: () => Promise<T>,
  wanted: (value: T) => boolean,
): Promise<T> {
  for (const end = Date.now() + PATIENCE_MS; ; await wait(100)) {
    const value = await ask()
    if (wanted(value)) return value
    if (Date.now() > end)
      throw new Error(`${what} did not come about: ${JSON.stringify(value).slice(0, 500)}`)
  }
}

/** One round: a fresh copy, work begun, the process killed, another one started on what is left, and a look at it. */
export async function round(
  { ground, killAfterMs }: Settings,
  begin: (server: Server) => Promise<() => Promise<boolean>>,
  look: (server: Server, copy: Copy, lost: string[]) => Promise<void>,
): Promise<Round> {
  const copy = await ground.copy()
  let server = await startServer(copy.env)
  try {
    const isOver = await begin(server)
    await wait(killAfterMs)
    const died = (await isOver()) ? 'after the end' : 'at work'
    await server.kill()
    await copy.age()
    server = await startServer(copy.env)
    const lost: string[] = []
    await look(server, copy, lost)
    return { died, lost }
  } finally {
    await server.kill()
    await copy.remove()
  }
}

type One = (strings: TemplateStringsArray) => Promise<number>
/** Looks into the database itself; the server must be down. */
export async function withDatabase(copy: Copy, work: (one: One) => Promise<void>) {
  const database = await copy.open()
  try {
    await work(async (strings) => {
      const [row] = await database.db.execute<{ n: number }>(sql.raw(strings.join('')))
      return row!.n
    })
  } finally {
    await database.close()
  }
}

/** A closed visit with two findings and a rating, as a device sends it. */
export const closingOf = (treeId: string) => {
  const visit = visitExample(treeId)
  return closingExample({
    ...visit,
    steps: visit.steps.map((one) => (one.step === 'base' ? { ...one, result: 'findings' as const } : one)),
    findings: ['bracket fungus', 'opening'].map((kind) => ({
      id: randomUUID(),
      step: 'base' as const,
      kind,
      heightM: 0.4,
      bearingDeg: 80,
      extent: '20 × 10 cm',
      note: '',
    })),
  })
}
