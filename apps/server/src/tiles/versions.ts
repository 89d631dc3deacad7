import { type Session, tables } from '@underbough/db'
import { eq, sql } from 'drizzle-orm'

const { mapVersion } = tables

/** Says that something shown on tiles has changed, so that every client asks for them afresh. Call it in the transaction that changes it. */
export async function raiseMapVersion(
  session: Session,
  organisationId: string,
  ...layers: ('trees' | 'ground')[]
) {
  const step = (layer: 'trees' | 'ground') => (layers.includes(layer) ? 1 : 0)
  await session
    .insert(mapVersion)
    .values({ organisationId, trees: 1 + step('trees'), ground: 1 + step('ground') })
    .onConflictDoUpdate({
      target: mapVersion.organisationId,
      set: {
        trees: sql`${mapVersion.trees} + ${step('trees')}`,
        ground: sql`${mapVersion.ground} + ${step('ground')}`,
      },
    })
}

export async function mapVersions(session: Session, organisationId: string) {
  const [row] = await session
    .select({ trees: mapVersion.trees, ground: mapVersion.ground })
    .from(mapVersion)
    .where(eq(mapVersion.organisationId, organisationId))
  return row ?? { trees: 1, ground: 1 }
}
