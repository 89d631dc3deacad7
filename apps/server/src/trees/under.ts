import type { Session } from '@underbough/db'
import { type Closer, fallingTreeOn, searchUnderM, type Under, underOf } from '@underbough/exposure'
import type { Rating, Tree, Zone } from '@underbough/model'
import { exposurePolicyOf } from '../policy/exposure.ts'
import { siteById } from '../sites/queries.ts'
import { zonesNearTree } from '../zones/queries.ts'
import { closerInThread } from './closer.ts'

/** A zone as a page about a tree names it. */
export type ZoneNamed = Pick<
  Zone,
  'id' | 'name' | 'kind' | 'valueAtStake' | 'occupancyWord' | 'occupancy' | 'partOf'
>

/** What the figures of a tree are worked out from; null where nothing stands that could fall. */
async function recordsUnder(session: Session, organisationId: string, tree: Tree) {
  const windRose = tree.siteId
    ? ((await siteById(session, organisationId, tree.siteId))?.windRose ?? null)
    : null
  const falling = fallingTreeOn(tree, windRose)
  if (!falling) return null
  const { edition, policy } = await exposurePolicyOf(session, organisationId)
  const zones = await zonesNearTree(session, organisationId, tree.id, searchUnderM(tree, falling, policy))
  return { tree, windRose, zones, edition, policy }
}

/** Who is under a tree and under each part its rating says may fail, worked out from the records as they stand now. */
export async function underView(
  session: Session,
  organisationId: string,
  tree: Tree,
  rating: Rating | null,
): Promise<(Under & { policyEdition: number; named: ZoneNamed[] }) | null> {
  const records = await recordsUnder(session, organisationId, tree)
  if (!records) return null
  const { windRose, zones, edition, policy } = records
  const under = underOf(tree, windRose, zones, rating?.scenarios ?? [], policy)
  return (
    under && {
      ...under,
      policyEdition: edition,
      named: zones.map(({ id, name, kind, valueAtStake, occupancyWord, occupancy, partOf }) => ({
        id,
        name,
        kind,
        valueAtStake,
        occupancyWord,
        occupancy,
        partOf,
      })),
    }
  )
}

/** What moves those figures, worked out in a thread from the records as they stand now. */
export async function closerView(
  session: Session,
  organisationId: string,
  tree: Tree,
): Promise<Closer | null> {
  const records = await recordsUnder(session, organisationId, tree)
  return records && closerInThread(records)
}
