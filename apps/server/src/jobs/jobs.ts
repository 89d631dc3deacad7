import { randomUUID } from 'node:crypto'
import type { Database, Session } from '@underbough/db'
import PgBoss from 'pg-boss'
import {
  clearMarks,
  endJob,
  insertJob,
  jobById,
  markJob,
  openJobs,
  stopJob,
  strandedJobs,
  takeJob,
} from './queries.ts'

/** What the work of a job may use. Work is idempotent: it may be begun again after the process died half-way. */
export interface JobContext {
  organisationId: string
  jobId: string
  /** Stores how far it is; cheap to call often. Throws `Cancelled` once a person has stopped the job. */
  progress(done: number, total: number, message?: string): Promise<void>
  cancelled(): boolean
}
export type JobWork = (input: never, context: JobContext) => Promise<string | undefined>

/** Thrown out of a job's work when a person stopped it. */
export class Cancelled extends Error {}

/** Work that is asked for: by whom, and what it is about where it is about one thing. */
export type JobAsked = [
  organisationId: string,
  kind: string,
  input: unknown,
  personId: string,
  subjectId?: string,
]

export interface Jobs {
  /** Queues work of a kind; returns the job's id. */
  start(...job: JobAsked): Promise<string>
  /**
   * The same, with the change it belongs to: both are stored in one transaction, so that a process that dies leaves neither
   * without the other.
   */
  startWith(
    organisationId: string,
    kind: string,
    input: unknown,
    personId: string,
    subjectId: string,
    change: (tx: Session) => Promise<unknown>,
  ): Promise<string>
  /**
   * Stores a job within an open transaction, for `queue` once that is committed. A process that dies between the two leaves it to the
   * next look for stranded jobs.
   */
  store(tx: Session, ...job: JobAsked): Promise<string>
  /** Hands a stored job to the workers. */
  queue(organisationId: string, jobId: string): Promise<void>
  /**
   * Does a stored job in this process and waits for it: for work so small that who caused it should see it done. A process that dies
   * at it leaves the job to the next look for stranded jobs.
   */
  atOnce(organisationId: string, jobId: string): Promise<void>
  /** Asks a job to stop. What it had not finished is rolled back by its own work; true where that had not begun. */
  cancel(organisationId: string, jobId: string): Promise<boolean>
  get(organisationId: string, jobId: string): ReturnType<typeof jobById>
  open(organisationId: string): ReturnType<typeof openJobs>
  /** Waits until nothing is queued or at work: for tests and the command line. */
  idle(): Promise<void>
  close(): Promise<void>
}

const MARK_MS = 5_000
const STRANDED_S = 30

/**
 * The queue: pg-boss in the same database, and a row a person can read beside each job. A job whose process died leaves an
 * old mark and is taken up again by whichever process looks next.
 */
export async function createJobs(database: Database, works: Record<string, JobWork>): Promise<Jobs> {
  const inFlight = new Set<Promise<unknown>>()
  let closing = false
  let closed = false
  const boss = new PgBoss({
    db: {
      executeSql: async (text: string, values?: unknown[]) => {
        // A worker that hears late that the queue has stopped would ask a connection that is gone: it gets no answer.
        if (closed) return new Promise<never>(() => {})
        const asked = database.queueSql.unsafe(text, (values ?? []).map(asParameter) as never[])
        const settled: Promise<unknown> = asked.catch(() => {}).finally(() => inFlight.delete(settled))
        inFlight.add(settled)
        return { rows: [...(await asked)] }
      },
    },
    schema: 'queue',
  } as PgBoss.ConstructorOptions)
  boss.on('error', (error) => console.error('The queue reports:', error.message))
  await boss.start()
  await boss.createQueue('work')

  const stopped = new Set<string>()
  const queue = (organisationId: string, jobId: string) =>
    boss.send('work', { organisationId, jobId }, { retryLimit: 0, expireInHours: 12 })

  async function run(organisationId: string, jobId: string) {
    if (closing) return
    const row = await takeJob(database.db, organisationId, jobId)
    if (!row) return
    const work = works[row.kind]
    const pulse = setInterval(() => void markJob(database.db, organisationId, jobId).catch(() => {}), MARK_MS)
    let told = 0
    const context: JobContext = {
      organisationId,
      jobId,
      cancelled: () => stopped.has(jobId),
      async progress(done, total, message) {
        if (stopped.has(jobId)) throw new Cancelled()
        if (Date.now() - told < 250 && done < total) return
        told = Date.now()
        if (await markJob(database.db, organisationId, jobId, { done, total, message })) return
        stopped.add(jobId)
        throw new Cancelled()
      },
    }
    try {
      if (!work) throw new Error(`No work is known by the name ${row.kind}`)
      const message = await work(row.input as never, context)
      await endJob(database.db, organisationId, jobId, 'done', message ?? '')
    } catch (error) {
      const gone = error instanceof Cancelled
      if (!gone) console.error(`Job ${row.kind} failed:`, error)
      await endJob(
        database.db,
        organisationId,
        jobId,
        gone ? 'cancelled' : 'failed',
        (error as Error).message || 'Stopped by a person. Nothing was kept.',
      )
    } finally {
      clearInterval(pulse)
      stopped.delete(jobId)
    }
  }

  async function takeUpStranded() {
    for (const { organisationId, id } of await strandedJobs(database.db, STRANDED_S))
      await queue(organisationId, id)
  }

  // The embedded database belongs to one process: whatever was at work before it started is stranded now.
  if (database.kind === 'embedded') await clearMarks(database.db)
  await takeUpStranded()
  await boss.work<{ organisationId: string; jobId: string }>(
    'work',
    { pollingIntervalSeconds: 0.5 },
    async (batch) => {
      for (const { data } of batch) await run(data.organisationId, data.jobId)
    },
  )
  const sweep = setInterval(() => void takeUpStranded().catch(() => {}), STRANDED_S * 1000)

  return {
    async start(...job) {
      const id = await store(database.db, ...job)
      await queue(job[0], id)
      return id
    },
    store,
    async queue(organisationId, jobId) {
      await queue(organisationId, jobId)
    },
    atOnce: run,
    async startWith(organisationId, kind, input, personId, subjectId, change) {
      const id = await database.transaction(async (tx) => {
        await change(tx)
        return store(tx, organisationId, kind, input, personId, subjectId)
      })
      await queue(organisationId, id)
      return id
    },
    async cancel(organisationId, jobId) {
      stopped.add(jobId)
      return stopJob(database.db, organisationId, jobId)
    },
    get: (organisationId, jobId) => jobById(database.db, organisationId, jobId),
    open: (organisationId) => openJobs(database.db, organisationId),
    async idle() {
      while ((await strandedJobs(database.db, -1)).length > 0)
        await new Promise((resolve) => setTimeout(resolve, 50))
    },
    async close() {
      clearInterval(sweep)
      closing = true
      await boss.stop({ graceful: true, timeout: 10_000, wait: true })
      // The queue says it has stopped while it still asks for work; a connection closed under it would be opened anew.
      while (inFlight.size > 0) await Promise.all(inFlight)
      closed = true
    },
  }
}

const store: Jobs['store'] = async (session, organisationId, kind, input, startedBy, subjectId) => {
  const id = randomUUID()
  await insertJob(session, { organisationId, id, kind, input, startedBy, subjectId: subjectId ?? null })
  return id
}

/** The queue hands plain objects to its SQL; the driver wants JSON as text. */
function asParameter(value: unknown) {
  return value !== null && typeof value === 'object' && !(value instanceof Date) && !Array.isArray(value)
    ? JSON.stringify(value)
    : (value ?? null)
}
