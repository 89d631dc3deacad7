import type { Deps, Person } from '../http/context.ts'
import { withLateness } from '../trees/line.ts'
import { treeLines } from '../trees/queries.ts'
import { computedAt, hotspots } from './queries.ts'

const WORST_TREES = 3

export async function listHotspots(deps: Deps, { organisation }: Person, limit: number) {
  const { db } = deps.database
  const found = await hotspots(db, organisation.id, limit, WORST_TREES)
  const lines = await treeLines(db, organisation.id, [...new Set(found.flatMap((spot) => spot.worst))])
  const late = withLateness(organisation, deps.now())
  return {
    zones: found.map(
      ({ id, name, kind, place, mean, least, most, worst, sumModerate, trees, treesModerate }, i) => ({
        zone: { id, name, kind, place },
        people: { mean, least, most },
        sumModerate,
        trees,
        treesModerate,
        worst: worst.flatMap((treeId) => lines.get(treeId) ?? []).map(late),
        rank: i + 1,
      }),
    ),
    computedAt: await computedAt(db, organisation.id),
  }
}
