import { type ImportKind, type ImportState, type Session, tables } from '@underbough/db'
import type { Change, Refusal, Verdict } from '@underbough/model'
import { and, asc, desc, eq, gt, inArray, isNotNull, sql } from 'drizzle-orm'
import type { Mapping } from './mapping.ts'

const { importBatch, importRow, job } = tables
export type ImportRow = Omit<typeof importRow.$inferInsert, 'organisationId' | 'batchId'>
export type StoredRow = Omit<typeof importRow.$inferSelect, 'organisationId' | 'batchId'>

const one = (organisationId: string, id: string) =>
  and(eq(importBatch.organisationId, organisationId), eq(importBatch.id, id))
const rowsOf = (organisationId: string, id: string) =>
  and(eq(importRow.organisationId, organisationId), eq(importRow.batchId, id))

export async function insertBatch(
  session: Session,
  row: {
    organisationId: string
    id: string
    kind: ImportKind
    fileName: string
    file: Uint8Array
    columns: string[]
    notes: Refusal[]
    madeBy: string
  },
) {
  await session.insert(importBatch).values({ ...row, state: 'mapping' })
}

/** A batch without the bytes of its file. */
export async function batchById(session: Session, organisationId: string, id: string) {
  const {
    organisationId: _,
    file: __,
    ...columns
  } = {
    ...importBatchColumns,
  }
  const [row] = await session.select(columns).from(importBatch).where(one(organisationId, id))
  return row
}
/** The latest imports without their files. */
export async function latestBatches(session: Session, organisationId: string, limit: number) {
  return session
    .select({
      importId: importBatch.id,
      kind: importBatch.kind,
      fileName: importBatch.fileName,
      state: importBatch.state,
      counts: importBatch.counts,
      madeAt: importBatch.madeAt,
    })
    .from(importBatch)
    .where(eq(importBatch.organisationId, organisationId))
    .orderBy(desc(importBatch.madeAt), importBatch.id)
    .limit(limit)
}

const importBatchColumns = {
  organisationId: importBatch.organisationId,
  file: importBatch.file,
  id: importBatch.id,
  kind: importBatch.kind,
  fileName: importBatch.fileName,
  columns: importBatch.columns,
  mapping: importBatch.mapping,
  state: importBatch.state,
  counts: importBatch.counts,
  notes: importBatch.notes,
  refusal: importBatch.refusal,
  madeBy: importBatch.madeBy,
  madeAt: importBatch.madeAt,
}

export async function fileOf(
  session: Session,
  organisationId: string,
  id: string,
): Promise<Uint8Array | null> {
  const [row] = await session
    .select({ file: importBatch.file })
    .from(importBatch)
    .where(one(organisationId, id))
  return row?.file ?? null
}

/** Moves a batch on from one of the named states; false when it is in another. */
export async function moveBatch(
  session: Session,
  organisationId: string,
  id: string,
  from: ImportState[],
  to: ImportState,
  values: Partial<{
    mapping: Mapping
    counts: Record<string, number>
    notes: Refusal[]
    refusal: Refusal | null
    file: null
  }> = {},
): Promise<boolean> {
  const rows = await session
    .update(importBatch)
    .set({ ...(values as object), state: to })
    .where(and(one(organisationId, id), inArray(importBatch.state, from)))
    .returning({ id: importBatch.id })
  return rows.length > 0
}

/** Holds the batch in its state until the transaction ends, so that a cancellation waits its turn. */
export async function heldState(
  session: Session,
  organisationId: string,
  id: string,
): Promise<ImportState | null> {
  const [row] = await session.execute<{ state: ImportState }>(sql`
    select state from ${importBatch} where ${one(organisationId, id)} for share`)
  return row?.state ?? null
}

export async function wipeRows(session: Session, organisationId: string, id: string) {
  await session.delete(importRow).where(rowsOf(organisationId, id))
}

export async function insertRows(
  session: Session,
  organisationId: string,
  batchId: string,
  rows: ImportRow[],
) {
  if (rows.length > 0)
    await session.insert(importRow).values(rows.map((row) => ({ organisationId, batchId, ...row })))
}

/** Rows to be written, a page at a time in the order of the file. */
export async function rowsToWrite(
  session: Session,
  organisationId: string,
  batchId: string,
  change: 'new' | 'changed',
  afterLine: number,
  limit: number,
): Promise<StoredRow[]> {
  return session
    .select()
    .from(importRow)
    .where(
      and(
        rowsOf(organisationId, batchId),
        eq(importRow.change, change),
        isNotNull(importRow.record),
        gt(importRow.line, afterLine),
      ),
    )
    .orderBy(asc(importRow.line))
    .limit(limit)
}

export interface RowFilter {
  verdict?: Verdict
  change?: Change
  code?: string
}

const matching = (organisationId: string, batchId: string, { verdict, change, code }: RowFilter) =>
  and(
    rowsOf(organisationId, batchId),
    verdict ? and(eq(importRow.verdict, verdict), gt(importRow.line, 0)) : undefined,
    change ? eq(importRow.change, change) : undefined,
    code ? sql`${importRow.notes} @> ${JSON.stringify([{ code }])}::jsonb` : undefined,
  )

/** One page of rows; trees that are gone from the file have lines below 0 and come last. */
export async function pageOfRows(
  session: Session,
  organisationId: string,
  batchId: string,
  filter: RowFilter,
  limit: number,
  offset: number,
) {
  const where = matching(organisationId, batchId, filter)
  const rows = await session
    .select()
    .from(importRow)
    .where(where)
    .orderBy(sql`${importRow.line} < 0`, sql`abs(${importRow.line})`)
    .limit(limit)
    .offset(offset)
  return { rows, total: await session.$count(importRow, where) }
}

export async function refusedRows(
  session: Session,
  organisationId: string,
  batchId: string,
): Promise<StoredRow[]> {
  return session
    .select()
    .from(importRow)
    .where(and(rowsOf(organisationId, batchId), eq(importRow.verdict, 'refused')))
    .orderBy(asc(importRow.line))
}

/** How often each reason or note stands on a row. */
export async function countsByCode(session: Session, organisationId: string, batchId: string) {
  const rows = await session.execute<{ code: string; count: number }>(sql`
    select note->>'code' as code, count(distinct ${importRow.line})::int as count
    from ${importRow}, jsonb_array_elements(${importRow.notes}) note
    where ${rowsOf(organisationId, batchId)}
    group by 1 order by 2 desc, 1`)
  return [...rows]
}

/** The newest job that worked on a batch. */
export async function jobOfBatch(session: Session, organisationId: string, batchId: string) {
  const [row] = await session
    .select({ id: job.id, state: job.state, done: job.done, total: job.total, message: job.message })
    .from(job)
    .where(and(eq(job.organisationId, organisationId), eq(job.subjectId, batchId)))
    .orderBy(desc(job.startedAt))
    .limit(1)
  return row
}
