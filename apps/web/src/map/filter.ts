import { addDays, type CivilDate, riskWords } from '@underbough/model'
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
  // Tiles from afar hold neither, and are narrowed by the server.
  const told: Expression = ['!', ['has', 'names']]
  if (filter.names)
    parts.push(['any', told, ['in', filter.names.toLowerCase(), ['coalesce', ['get', 'names'], '']]])
  if (filter.siteId) parts.push(['any', told, ['==', ['get', 'site'], filter.siteId]])
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
  if (filter.names && tree.names !== undefined && !tree.names.includes(filter.names.toLowerCase()))
    return false
  if (filter.siteId && tree.names !== undefined && tree.siteId !== filter.siteId) return false
  if (given(filter.within) && !filter.within.some((area) => contains(area, tree.position))) return false
  return !given(filter.ids) || filter.ids.includes(tree.id)
}

const dateOf = (day: number): CivilDate => addDays('1970-01-01', day)

/** The filter as the part of a tile's address that the server narrows by; what is drawn by hand, or named one by one, is left to the map. */
export function narrowingOf(filter: TreeFilter): string {
  const { weeks, risks, overdue, neverSeen, names, siteId } = filter
  const words = ['unrated', ...riskWords]
  const parts: [string, string | undefined | false][] = [
    ['risk', given(risks) && risks.map((rank) => words[rank]).join(',')],
    ['overdue', overdue && 'true'],
    ['seen', neverSeen && 'false'],
    ['dueFrom', weeks && weeks[0] > 0 && dateOf(weeks[0])],
    ['dueUntil', weeks && dateOf(weeks[1] - 1)],
    ['names', names],
    ['siteId', siteId],
  ]
  return parts
    .filter(([, value]) => value)
    .map(([name, value]) => `&${name}=${encodeURIComponent(value as string)}`)
    .join('')
}
