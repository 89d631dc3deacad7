import type { FilterSpecification } from 'maplibre-gl'
import { contains } from './area.ts'
import type { MapTree, TreeFilter } from './port.ts'

type Expression = unknown[]
const given = <T>(list: readonly T[] | undefined): list is readonly T[] => list !== undefined

/** The filter as the map engine's expression: true for trees that stand as marks. */
export function filterExpression(filter: TreeFilter): FilterSpecification {
  const parts: Expression[] = []
  if (filter.weeks) {
    const [from, to] = filter.weeks
    parts.push(['has', 'week'], ['>=', ['get', 'week'], from], ['<', ['get', 'week'], to])
  }
  if (given(filter.risks)) parts.push(['in', ['get', 'risk'], ['literal', [...filter.risks]]])
  if (filter.overdue) parts.push(['==', ['get', 'overdue'], 1])
  if (filter.neverSeen) parts.push(['==', ['get', 'seen'], 0])
  if (given(filter.within)) parts.push(['any', ...filter.within.map((area) => ['within', area])])
  if (given(filter.ids)) parts.push(['in', ['get', 'id'], ['literal', [...filter.ids]]])
  return ['all', ...parts] as FilterSpecification
}

/** The same filter for trees at hand; what the engine draws and what the page counts must agree. */
export function passes(filter: TreeFilter, tree: MapTree): boolean {
  if (filter.weeks && (tree.week === null || tree.week < filter.weeks[0] || tree.week >= filter.weeks[1]))
    return false
  if (given(filter.risks) && !filter.risks.includes(tree.risk)) return false
  if (filter.overdue && !tree.overdue) return false
  if (filter.neverSeen && tree.seen) return false
  if (given(filter.within) && !filter.within.some((area) => contains(area, tree.position))) return false
  return !given(filter.ids) || filter.ids.includes(tree.id)
}
