import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { exposurePolicyOf } from '../policy/exposure.ts'
import { allSites } from '../sites/queries.ts'
import { zoneById } from '../zones/queries.ts'
import { treesNearZone, zonesTouchingOn } from './queries.ts'

/** Trees nearer than this may reach a zone: the tallest trees of towns, with what brittle ones throw (Assumption). */
const REACH_M = 70
const TREES_AT_MOST = 1500

/** Everything a device needs to reckon what a change of a zone would do: nothing is stored. */
export async function zoneSurroundings(
  deps: Deps,
  { organisation }: Person,
  zoneId: string,
  carriedM: number,
) {
  const { db } = deps.database
  const zone =
    (await zoneById(db, organisation.id, zoneId)) ?? refuse('unknown', 'id', 'There is no such zone.')
  const withinM = REACH_M + carriedM
  const trees = await treesNearZone(db, organisation.id, zoneId, withinM, TREES_AT_MOST + 1)
  const others = await zonesTouchingOn(db, organisation.id, zone, withinM + REACH_M)
  const zones = []
  for (const id of others) {
    const other = await zoneById(db, organisation.id, id)
    if (other) zones.push(other)
  }
  const { edition, policy } = await exposurePolicyOf(db, organisation.id)
  return {
    zone,
    trees: trees.slice(0, TREES_AT_MOST),
    cut: trees.length > TREES_AT_MOST,
    zones,
    roses: (await allSites(db, organisation.id)).map(({ id, windRose }) => ({ siteId: id, windRose })),
    policy,
    policyEdition: edition,
  }
}
