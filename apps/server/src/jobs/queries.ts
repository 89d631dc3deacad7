import { type JobState, type Session, tables } from '@underbough/db'
import { and, desc, eq, inArray, isNull, lt, or, sql } from 'drizzle-orm'

const { job } = tables
const one = (organisationId: string, id: string) =>
  and(eq(job.organisationId, organisationId), eq(job.id, id))
const seen = {
  id: job.id,
  kind: job.kind,
  subjectId: job.subjectId,
  state: job.state,
  done: job.done,
  total: job.total,
  message: job.message,
  startedAt: job.startedAt,
  endedAt: job.endedAt,
}

export async function insertJob(
  session: Session,
  row: {
    organisationId: string
    id: string
    kind: string
    input: unknown
    startedBy: string
    subjectId: string | null
  },
) {
  await session.insert(job).values({ ...row, input: row.input ?? {}, state: 'waiting' })
}

/** Marks a waiting or stranded job as at work, once; undefined when it was stopped or somebody else has it. */
export async function takeJob(session: Session, organisationId: string, id: string) {
  const stranded = lt(job.markedAt, sql`now() - interval '30 seconds'`)
  const [row] = await session
    .update(job)
    .set({ state: 'working', markedAt: sql`now()` as never })
    .where(
      and(
        one(organisationId, id),
        or(eq(job.state, 'waiting'), and(eq(job.state, 'working'), or(isNull(job.markedAt), stranded))),
      ),
    )
    .returning({ kind: job.kind, input: job.input })
  return row
}

/** Writes how far a job is; false when it was stopped meanwhile. */
export async function markJob(
  session: Session,
  organisationId: string,
  id: string,
  at: { done?: number; total?: number; message?: string } = {},
): Promise<boolean> {
  const rows = await session
    .update(job)
    .set({ ...at, markedAt: sql`now()` as never })
    .where(and(one(organisationId, id), eq(job.state, 'working')))
    .returning({ id: job.id })
  return rows.length > 0
}

export async function endJob(
  session: Session,
  organisationId: string,
  id: string,
  state: JobState,
  message: string,
) {
  await session
    .update(job)
    .set({ state, message, endedAt: sql`now()` as never })
    .where(and(one(organisationId, id), inArray(job.state, ['working', 'cancelled'])))
}

/** Ends a job that waits or works; true where it had not begun, so that its work will never hear of it. */
export async function stopJob(session: Session, organisationId: string, id: string): Promise<boolean> {
  const end = (state: JobState) =>
    session
      .update(job)
      .set({ state: 'cancelled', endedAt: sql`now()` as never })
      .where(and(one(organisationId, id), eq(job.state, state)))
      .returning({ id: job.id })
  const waited = (await end('waiting')).length > 0
  if (!waited) await end('working')
  return waited
}

export async function jobById(session: Session, organisationId: string, id: string) {
  const [row] = await session.select(seen).from(job).where(one(organisationId, id))
  return row
}

export async function openJobs(session: Session, organisationId: string) {
  return session
    .select(seen)
    .from(job)
    .where(and(eq(job.organisationId, organisationId), inArray(job.state, ['waiting', 'working'])))
    .orderBy(desc(job.startedAt))
}

/** Jobs without an end whose mark is older than `seconds`; with -1, all without an end. */
export async function strandedJobs(session: Session, seconds: number) {
  const old =
    seconds < 0
      ? sql`true`
      : sql`coalesce(${job.markedAt}, ${job.startedAt}) < now() - make_interval(secs => ${seconds})`
  return session
    .select({ organisationId: job.organisationId, id: job.id })
    .from(job)
    .where(and(inArray(job.state, ['waiting', 'working']), old))
}

export async function clearMarks(session: Session) {
  await session
    .update(job)
    .set({ state: 'waiting', markedAt: null, startedAt: sql`now() - interval '1 hour'` as never })
    .where(inArray(job.state, ['waiting', 'working']))
}
