import { type Session, tables } from '@underbough/db'
import type { Site, siteInput } from '@underbough/model'
import { and, eq, sql } from 'drizzle-orm'
import type { z } from 'zod'
import { geojson } from '../geometry/queries.ts'

const { site } = tables
type Input = z.infer<typeof siteInput>

const seen = {
  id: site.id,
  name: site.name,
  outline: geojson<Site['outline']>(site.outline),
  timeZone: site.timeZone,
  windRose: site.windRose,
  detourFactor: site.detourFactor,
  contacts: site.contacts,
  version: site.version,
  createdAt: site.createdAt,
  updatedAt: site.updatedAt,
}
const one = (organisationId: string, id: string) =>
  and(eq(site.organisationId, organisationId), eq(site.id, id))

export async function allSites(session: Session, organisationId: string): Promise<Site[]> {
  return session.select(seen).from(site).where(eq(site.organisationId, organisationId)).orderBy(site.name)
}

export async function siteById(
  session: Session,
  organisationId: string,
  id: string,
): Promise<Site | undefined> {
  const [row] = await session.select(seen).from(site).where(one(organisationId, id))
  return row
}

export async function siteExists(session: Session, organisationId: string, id: string): Promise<boolean> {
  const [row] = await session.select({ id: site.id }).from(site).where(one(organisationId, id))
  return row !== undefined
}

export async function insertSite(session: Session, organisationId: string, id: string, input: Input) {
  await session.insert(site).values({ organisationId, id, ...input })
}

/** False when the stored version is another one. */
export async function updateSite(
  session: Session,
  organisationId: string,
  id: string,
  version: number,
  input: Partial<Input>,
): Promise<boolean> {
  const rows = await session
    .update(site)
    .set({ ...input, version: version + 1, updatedAt: sql`now()` as never })
    .where(and(one(organisationId, id), eq(site.version, version)))
    .returning({ id: site.id })
  return rows.length > 0
}
