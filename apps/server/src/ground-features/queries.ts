import { type Session, tables } from '@underbough/db'
import type { GroundFeature, groundFeatureInput } from '@underbough/model'
import { and, eq, type SQL, sql } from 'drizzle-orm'
import type { z } from 'zod'
import { geojson } from '../geometry/queries.ts'

const { groundFeature } = tables
type Input = z.infer<typeof groundFeatureInput>
export type Bounds = [west: number, south: number, east: number, north: number]

const seen = {
  id: groundFeature.id,
  siteId: groundFeature.siteId,
  kind: groundFeature.kind,
  name: groundFeature.name,
  geometry: geojson<GroundFeature['geometry']>(groundFeature.geometry),
  version: groundFeature.version,
  createdAt: groundFeature.createdAt,
  updatedAt: groundFeature.updatedAt,
}
const one = (organisationId: string, id: string) =>
  and(eq(groundFeature.organisationId, organisationId), eq(groundFeature.id, id))

/** Features that touch the bounds (all without bounds), at most `limit`. */
export async function groundFeatures(
  session: Session,
  organisationId: string,
  bounds: Bounds | null,
  limit: number,
): Promise<GroundFeature[]> {
  const within: SQL | undefined = bounds
    ? sql`${groundFeature.geometry} && ST_MakeEnvelope(${sql.join(bounds, sql`, `)}, 4326)`
    : undefined
  return session
    .select(seen)
    .from(groundFeature)
    .where(and(eq(groundFeature.organisationId, organisationId), within))
    .orderBy(groundFeature.id)
    .limit(limit)
}

export async function groundFeatureById(session: Session, organisationId: string, id: string) {
  const [row] = await session.select(seen).from(groundFeature).where(one(organisationId, id))
  return row as GroundFeature | undefined
}

export async function insertGroundFeature(
  session: Session,
  organisationId: string,
  id: string,
  input: Input,
) {
  await session.insert(groundFeature).values({ organisationId, id, ...input })
}

/** False when the stored version is another one. */
export async function updateGroundFeature(
  session: Session,
  organisationId: string,
  id: string,
  version: number,
  input: Input,
): Promise<boolean> {
  const rows = await session
    .update(groundFeature)
    .set({ ...input, version: version + 1, updatedAt: sql`now()` as never })
    .where(and(one(organisationId, id), eq(groundFeature.version, version)))
    .returning({ id: groundFeature.id })
  return rows.length > 0
}

export async function deleteGroundFeature(
  session: Session,
  organisationId: string,
  id: string,
): Promise<boolean> {
  const rows = await session
    .delete(groundFeature)
    .where(one(organisationId, id))
    .returning({ id: groundFeature.id })
  return rows.length > 0
}
