import { type Session, tables } from '@underbough/db'
import type { Policy } from '@underbough/rating'

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
