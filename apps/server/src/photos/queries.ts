import { type Session, tables } from '@underbough/db'
import type { Photo } from '@underbough/model'
import { and, eq, or, sql } from 'drizzle-orm'

const { finding, photo, photoBytes, probe, visit } = tables
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

/** Photos of the tree itself, its visits, their findings and probes. */
export async function photosOf(session: Session, organisationId: string, treeId: string): Promise<Photo[]> {
  const its = (table: typeof visit | typeof finding) =>
    sql`${photo.ownerId} in (select id from ${table} where organisation_id = ${organisationId} and tree_id = ${treeId})`
  const probes = sql`${photo.ownerId} in (select p.id from ${probe} p join ${visit} v on v.organisation_id = p.organisation_id and v.id = p.visit_id where p.organisation_id = ${organisationId} and v.tree_id = ${treeId})`
  return session
    .select(columns)
    .from(photo)
    .where(
      and(
        eq(photo.organisationId, organisationId),
        or(eq(photo.ownerId, treeId), its(visit), its(finding), probes),
      ),
    )
}

/** Keeps the original bytes once for each digest, and what they are a photo of. The same photo twice is stored once. */
export async function insertPhoto(session: Session, organisationId: string, row: Photo, content: Uint8Array) {
  await session
    .insert(photoBytes)
    .values({ organisationId, sha256: row.sha256, content })
    .onConflictDoNothing()
  await session
    .insert(photo)
    .values({ organisationId, ...row })
    .onConflictDoNothing()
}

export async function photoById(session: Session, organisationId: string, id: string) {
  const [row] = await session
    .select({ mediaType: photo.mediaType, sha256: photo.sha256, content: photoBytes.content })
    .from(photo)
    .innerJoin(
      photoBytes,
      and(eq(photoBytes.organisationId, photo.organisationId), eq(photoBytes.sha256, photo.sha256)),
    )
    .where(and(eq(photo.organisationId, organisationId), eq(photo.id, id)))
  return row ?? null
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
