import { type Session, tables } from '@underbough/db'
import { and, asc, eq, lt, sql } from 'drizzle-orm'

const { photoBytes, uploadPiece } = tables
const pieces = (organisationId: string, sha256: string) =>
  and(eq(uploadPiece.organisationId, organisationId), eq(uploadPiece.sha256, sha256))

/** Pieces of one file come one after the other, whoever sends them. */
export async function lockUpload(session: Session, organisationId: string, sha256: string) {
  await session.execute(
    sql`select pg_advisory_xact_lock(hashtextextended(${`${organisationId} ${sha256}`}, 0))`,
  )
}

/** Length of the whole file where it is here; null otherwise. */
export async function wholeLength(
  session: Session,
  organisationId: string,
  sha256: string,
): Promise<number | null> {
  const [row] = await session
    .select({ bytes: sql<number>`octet_length(${photoBytes.content})` })
    .from(photoBytes)
    .where(and(eq(photoBytes.organisationId, organisationId), eq(photoBytes.sha256, sha256)))
  return row?.bytes ?? null
}

/** Bytes received without a gap from the first on. */
export async function receivedLength(
  session: Session,
  organisationId: string,
  sha256: string,
): Promise<number> {
  const [row] = await session
    .select({ bytes: sql<number>`coalesce(sum(octet_length(${uploadPiece.content})), 0)::int` })
    .from(uploadPiece)
    .where(pieces(organisationId, sha256))
  return row!.bytes
}

export async function pieceAt(
  session: Session,
  organisationId: string,
  sha256: string,
  fromByte: number,
): Promise<Uint8Array | null> {
  const [row] = await session
    .select({ content: uploadPiece.content })
    .from(uploadPiece)
    .where(and(pieces(organisationId, sha256), eq(uploadPiece.fromByte, fromByte)))
  return row?.content ?? null
}

export async function insertPiece(session: Session, row: typeof uploadPiece.$inferInsert) {
  await session.insert(uploadPiece).values(row)
}

/** What the pieces are together: their digest and their first bytes, for what they say about the kind of file. */
export async function joined(session: Session, organisationId: string, sha256: string) {
  const [row] = await session
    .select({
      sha256: sql<string>`encode(sha256(string_agg(${uploadPiece.content}, ''::bytea order by ${uploadPiece.fromByte})), 'hex')`,
    })
    .from(uploadPiece)
    .where(pieces(organisationId, sha256))
  const [first] = await session
    .select({ head: sql<string>`encode(substring(${uploadPiece.content} from 1 for 32), 'hex')` })
    .from(uploadPiece)
    .where(pieces(organisationId, sha256))
    .orderBy(asc(uploadPiece.fromByte))
    .limit(1)
  return { sha256: row!.sha256, head: Uint8Array.from(Buffer.from(first!.head, 'hex')) }
}

/** Makes the whole file of its pieces. */
export async function keepWhole(session: Session, organisationId: string, sha256: string) {
  const whole = session
    .select({
      organisationId: sql`${organisationId}::uuid`.as('organisation_id'),
      sha256: sql`${sha256}::text`.as('sha256'),
      content: sql`string_agg(${uploadPiece.content}, ''::bytea order by ${uploadPiece.fromByte})`.as(
        'content',
      ),
    })
    .from(uploadPiece)
    .where(pieces(organisationId, sha256))
  await session.insert(photoBytes).select(whole).onConflictDoNothing()
}

export async function dropPieces(session: Session, organisationId: string, sha256: string) {
  await session.delete(uploadPiece).where(pieces(organisationId, sha256))
}

/** Drops files of which no piece has come since `before`. */
export async function dropAbandoned(session: Session, organisationId: string, before: string) {
  await session
    .delete(uploadPiece)
    .where(
      and(
        eq(uploadPiece.organisationId, organisationId),
        lt(uploadPiece.receivedAt, before),
        sql`not exists (select 1 from ${uploadPiece} newer where newer.organisation_id = ${organisationId} and newer.sha256 = ${uploadPiece.sha256} and newer.received_at >= ${before})`,
      ),
    )
}
