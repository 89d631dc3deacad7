import { type Session, tables } from '@underbough/db'
import type { GustDay, WindFile } from '@underbough/model'
import { and, desc, eq, inArray, sql } from 'drizzle-orm'
import { alias } from 'drizzle-orm/pg-core'

const { authUser, gust, tree, windFile } = tables
const taker = alias(authUser, 'taker')

type FileRow = typeof windFile.$inferInsert
type GustRow = Omit<typeof gust.$inferInsert, 'organisationId'>
const CHUNK = 2000

/** Stores a file that was read, and its days in the place of those that the same station gave before. */
export async function insertWindFile(session: Session, row: FileRow, days: GustRow[]) {
  await session.insert(windFile).values(row)
  for (let at = 0; at < days.length; at += CHUNK)
    await session
      .insert(gust)
      .values(days.slice(at, at + CHUNK).map((day) => ({ organisationId: row.organisationId, ...day })))
      .onConflictDoUpdate({
        target: [gust.organisationId, gust.siteId, gust.on, gust.station],
        set: {
          gustMps: sql`excluded.gust_mps`,
          fromDeg: sql`excluded.from_deg`,
          at: sql`excluded.at`,
          windFileId: sql`excluded.wind_file_id`,
        },
      })
}

const SHOWN_FILES = 50
const files = (session: Session) =>
  session
    .select({
      row: windFile,
      madeBy: sql<string>`coalesce(${authUser.name}, '')`,
      acceptedBy: taker.name,
    })
    .from(windFile)
    .leftJoin(authUser, eq(authUser.id, windFile.madeBy))
    .leftJoin(taker, eq(taker.id, windFile.acceptedBy))

const seen = ({ row, madeBy, acceptedBy }: Awaited<ReturnType<typeof files>>[number]): WindFile => ({
  id: row.id,
  siteId: row.siteId,
  fileName: row.fileName,
  ...row.request,
  summary: row.summary,
  rose: row.rose,
  replaced: row.replaced,
  madeBy,
  madeAt: row.madeAt,
  acceptedBy,
  acceptedAt: row.acceptedAt,
})

/** Files read for a site, the newest first. */
export async function windFiles(
  session: Session,
  organisationId: string,
  siteId: string,
): Promise<WindFile[]> {
  const rows = await files(session)
    .where(and(eq(windFile.organisationId, organisationId), eq(windFile.siteId, siteId)))
    .orderBy(desc(windFile.madeAt))
    .limit(SHOWN_FILES)
  return rows.map(seen)
}

export async function windFileById(
  session: Session,
  organisationId: string,
  id: string,
): Promise<WindFile | null> {
  const [row] = await files(session).where(
    and(eq(windFile.organisationId, organisationId), eq(windFile.id, id)),
  )
  return row ? seen(row) : null
}

export async function markAccepted(
  session: Session,
  organisationId: string,
  id: string,
  of: { acceptedBy: string; acceptedAt: string; replaced: number[] | null },
) {
  await session
    .update(windFile)
    .set(of)
    .where(and(eq(windFile.organisationId, organisationId), eq(windFile.id, id)))
}

/** The strongest gust of each day at a site, over its stations; the newest `limit` days, in their order. */
export async function gustDays(
  session: Session,
  organisationId: string,
  siteId: string,
  limit: number,
): Promise<GustDay[]> {
  const rows = await session.execute<GustDay & Record<string, unknown>>(sql`
    select distinct on (g."on") g."on"::text as "on", g.gust_mps as "gustMps", g.from_deg as "fromDeg",
      to_char(g.at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as at, g.station
    from ${gust} g where g.organisation_id = ${organisationId} and g.site_id = ${siteId}
    order by g."on" desc, g.gust_mps desc limit ${limit}`)
  return [...rows].reverse()
}

/** Trees that stand on a site. */
export async function standingOnSite(
  session: Session,
  organisationId: string,
  siteId: string,
): Promise<string[]> {
  const rows = await session
    .select({ id: tree.id })
    .from(tree)
    .where(
      and(
        eq(tree.organisationId, organisationId),
        eq(tree.siteId, siteId),
        inArray(tree.status, ['standing', 'pole']),
      ),
    )
  return rows.map(({ id }) => id)
}
