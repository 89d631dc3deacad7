import { type Session, tables } from '@underbough/db'
import type { ExposurePolicy } from '@underbough/exposure'
import type { Policy } from '@underbough/rating'
import { desc, eq } from 'drizzle-orm'

/** Adds an edition; the same edition again replaces its content, older ones stay. */
export async function insertPolicy(
  session: Session,
  organisationId: string,
  content: Policy,
  madeBy: string,
) {
  const row = { organisationId, edition: content.edition, content, madeBy, madeAt: new Date().toISOString() }
  await session
    .insert(tables.policy)
    .values(row)
    .onConflictDoUpdate({ target: [tables.policy.organisationId, tables.policy.edition], set: row })
}

/** Editions of what exposure assumes, the newest first. */
export async function exposureEditions(session: Session, organisationId: string, limit: number) {
  const { exposurePolicy, authUser } = tables
  return session
    .select({
      edition: exposurePolicy.edition,
      content: exposurePolicy.content,
      reason: exposurePolicy.reason,
      madeBy: authUser.name,
      madeAt: exposurePolicy.madeAt,
    })
    .from(exposurePolicy)
    .leftJoin(authUser, eq(authUser.id, exposurePolicy.madeBy))
    .where(eq(exposurePolicy.organisationId, organisationId))
    .orderBy(desc(exposurePolicy.edition))
    .limit(limit)
}

/** False where that edition is there already. */
export async function insertExposureEdition(
  session: Session,
  organisationId: string,
  row: { edition: number; content: ExposurePolicy; reason: string; madeBy: string; madeAt: string },
): Promise<boolean> {
  const rows = await session
    .insert(tables.exposurePolicy)
    .values({ organisationId, ...row })
    .onConflictDoNothing()
    .returning({ edition: tables.exposurePolicy.edition })
  return rows.length > 0
}
