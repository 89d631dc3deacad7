import { type Session, tables } from '@underbough/db'
import type { EntryVerdict } from '@underbough/model'
import { and, eq, inArray, max, sql } from 'drizzle-orm'
import { nearEnoughMs } from './clock.ts'

const { receivedEntry } = tables
const one = (organisationId: string, key: string) =>
  and(eq(receivedEntry.organisationId, organisationId), eq(receivedEntry.key, key))

/** What became of the entry of this key when it first came. */
export async function receivedByKey(session: Session, organisationId: string, key: string) {
  const [row] = await session
    .select({
      digest: receivedEntry.digest,
      verdict: receivedEntry.verdict,
      answer: receivedEntry.answer,
    })
    .from(receivedEntry)
    .where(one(organisationId, key))
  return row ?? null
}

/**
 * Takes the key of an entry for this transaction; false where it is on record. Waits for another transaction that holds the same key,
 * so that an entry sent twice at once is still taken once.
 */
export async function claimKey(session: Session, row: typeof receivedEntry.$inferInsert): Promise<boolean> {
  const rows = await session
    .insert(receivedEntry)
    .values(row)
    .onConflictDoNothing()
    .returning({ key: receivedEntry.key })
  return rows.length > 0
}

export async function settleKey(
  session: Session,
  organisationId: string,
  key: string,
  verdict: EntryVerdict,
  answer: unknown,
) {
  await session.update(receivedEntry).set({ verdict, answer }).where(one(organisationId, key))
}

/** The highest mark of the organisation, 0 before the first entry. */
export async function officeMark(session: Session, organisationId: string): Promise<number> {
  const [row] = await session
    .select({ mark: max(receivedEntry.mark) })
    .from(receivedEntry)
    .where(eq(receivedEntry.organisationId, organisationId))
  return row?.mark ?? 0
}

/** Those of the keys that are on record. */
export async function knownKeys(
  session: Session,
  organisationId: string,
  keys: string[],
): Promise<Set<string>> {
  if (keys.length === 0) return new Set()
  const rows = await session
    .select({ key: receivedEntry.key })
    .from(receivedEntry)
    .where(and(eq(receivedEntry.organisationId, organisationId), inArray(receivedEntry.key, keys)))
  return new Set(rows.map((row) => row.key))
}

/** Whether a draft of this visit made later than `madeAt` is on record: an older one that comes after it changes nothing. */
export async function laterDraftTaken(
  session: Session,
  organisationId: string,
  authorId: string,
  visitId: string,
  madeAt: string,
): Promise<boolean> {
  const byOffice = sql`${receivedEntry.madeAt} + case when abs(${receivedEntry.clockOffsetMs}) > ${nearEnoughMs} then ${receivedEntry.clockOffsetMs} else 0 end * interval '1 millisecond'`
  const rows = await session
    .select({ key: receivedEntry.key })
    .from(receivedEntry)
    .where(
      and(
        eq(receivedEntry.organisationId, organisationId),
        eq(receivedEntry.authorId, authorId),
        eq(receivedEntry.kind, 'visit-draft'),
        sql`${byOffice} > ${madeAt}`,
        sql`${receivedEntry.answer} ->> 'id' = ${visitId}`,
      ),
    )
    .limit(1)
  return rows.length > 0
}
