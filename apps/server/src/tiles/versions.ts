import { type Session, tables } from '@underbough/db'
import { eq, sql } from 'drizzle-orm'

const { mapVersion } = tables

/** Says that something shown on tiles has changed, so that every client asks for them afresh. Call it in the transaction that changes it. */
export async function raiseMapVersion(
  session: Session,
  organisationId: string,
  ...layers: ('trees' | 'ground')[]
) {
  const raised = Object.fromEntries(layers.map((layer) => [layer, sql`${mapVersion[layer]} + 1`]))
  await session
    .insert(mapVersion)
    .values({ organisationId })
    .onConflictDoUpdate({ target: mapVersion.organisationId, set: raised })
}

/** How often each layer has changed; 0 before the first record. */
export async function mapVersions(session: Session, organisationId: string) {
  const [row] = await session
    .select({ trees: mapVersion.trees, ground: mapVersion.ground })
    .from(mapVersion)
    .where(eq(mapVersion.organisationId, organisationId))
  return row ?? { trees: 0, ground: 0 }
}
