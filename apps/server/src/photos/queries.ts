import { type Session, tables } from '@underbough/db'
import type { Photo } from '@underbough/model'
import { and, desc, eq, inArray, or, sql } from 'drizzle-orm'

const { failure, finding, photo, photoBytes, probe, urgentNote, visit } = tables
const columns = {
  id: photo.id,
  ownerKind: photo.ownerKind,
  ownerId: photo.ownerId,
  sha256: photo.sha256,
  bytes: photo.bytes,
  mediaType: photo.mediaType,
  takenAt: photo.takenAt,
  position: photo.position,
  caption: photo.caption,
  copyOf: photo.copyOf,
  copyKind: photo.copyKind,
}

/** Photos of the tree itself, its visits, their findings and probes, its urgent notes and failures. */
export async function photosOf(session: Session, organisationId: string, treeId: string): Promise<Photo[]> {
  const its = (table: typeof visit | typeof finding | typeof urgentNote | typeof failure) =>
    sql`${photo.ownerId} in (select id from ${table} where organisation_id = ${organisationId} and tree_id = ${treeId})`
  const probes = sql`${photo.ownerId} in (select p.id from ${probe} p join ${visit} v on v.organisation_id = p.organisation_id and v.id = p.visit_id where p.organisation_id = ${organisationId} and v.tree_id = ${treeId})`
  return session
    .select(columns)
    .from(photo)
    .where(
      and(
        eq(photo.organisationId, organisationId),
        or(eq(photo.ownerId, treeId), its(visit), its(finding), its(urgentNote), its(failure), probes),
      ),
    )
}

/** Keeps bytes once for each digest. */
export async function insertBytes(
  session: Session,
  organisationId: string,
  sha256: string,
  content: Uint8Array,
) {
  await session.insert(photoBytes).values({ organisationId, sha256, content }).onConflictDoNothing()
}

export async function bytesOf(
  session: Session,
  organisationId: string,
  sha256: string,
): Promise<Uint8Array | null> {
  const [row] = await session
    .select({ content: photoBytes.content })
    .from(photoBytes)
    .where(and(eq(photoBytes.organisationId, organisationId), eq(photoBytes.sha256, sha256)))
  return row?.content ?? null
}

/** Keeps what bytes are a photo of, unless one of this identifier is stored already; answers the one that is. */
export async function insertPhoto(session: Session, organisationId: string, row: Photo): Promise<Photo> {
  await session
    .insert(photo)
    .values({ organisationId, ...row })
    .onConflictDoUpdate({
      target: [photo.organisationId, photo.id],
      set: { caption: row.caption },
      setWhere: and(eq(photo.sha256, row.sha256), eq(photo.ownerId, row.ownerId)),
    })
  return (await photoById(session, organisationId, row.id))!
}

export async function photoById(session: Session, organisationId: string, id: string): Promise<Photo | null> {
  const [row] = await session
    .select(columns)
    .from(photo)
    .where(and(eq(photo.organisationId, organisationId), eq(photo.id, id)))
  return row ?? null
}

/** The copy of a photo made last, of the kind named first. */
export async function newestCopy(
  session: Session,
  organisationId: string,
  id: string,
  kinds: NonNullable<Photo['copyKind']>[],
): Promise<Photo | null> {
  const rows = await session
    .select(columns)
    .from(photo)
    .where(
      and(eq(photo.organisationId, organisationId), eq(photo.copyOf, id), inArray(photo.copyKind, kinds)),
    )
    .orderBy(sql`${photo.takenAt} desc nulls last`, desc(photo.id))
  for (const kind of kinds) {
    const found = rows.find((row) => row.copyKind === kind)
    if (found) return found
  }
  return null
}

/** Whether the thing a photo belongs to exists. */
export async function ownerExists(
  session: Session,
  organisationId: string,
  kind: Photo['ownerKind'],
  id: string,
): Promise<boolean> {
  const table = {
    visit: 'visit',
    finding: 'finding',
    probe: 'probe',
    failure: 'failure',
    'urgent-note': 'urgent_note',
    tree: 'tree',
  }[kind]
  const rows = (await session.execute(
    sql`select 1 from ${sql.identifier(table)} where organisation_id = ${organisationId} and id = ${id}`,
  )) as unknown as unknown[]
  return rows.length > 0
}
