import { type Session, tables } from '@underbough/db'
import { sql } from 'drizzle-orm'

const { mapVersion } = tables

/**
 * Says that something shown on every tile of a layer has changed, such as a site's time zone. Call it in the transaction that
 * changes it. Trees, zones and ground say so by themselves, each for its own cells (`map_change`).
 */
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
