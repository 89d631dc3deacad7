import { dayNumber, mondayOf, type RiskWord, type Site } from '@underbough/model'
import type { Polygon } from 'geojson'
import type { TreeRow } from '../api/index.ts'
import { riskRank, riskWordOf } from '../look/index.ts'
import type { MapTree, TreeFilter } from '../map/index.ts'

/** What a person has narrowed the view to. */
export interface Narrowing {
  risks: readonly (RiskWord | 'unrated')[]
  overdue: boolean
  neverSeen: boolean
  species: string
  siteId: string | null
}
export const openNarrowing: Narrowing = {
  risks: [],
  overdue: false,
  neverSeen: false,
  species: '',
  siteId: null,
}

/** True when nothing is narrowed. */
export const isWide = (n: Narrowing): boolean =>
  n.risks.length === 0 && !n.overdue && !n.neverSeen && n.species === '' && n.siteId === null

/** `high, overdue, Tilia, Lamp Green`: what the view is narrowed to. */
export function sayNarrowing(n: Narrowing, sites: readonly Site[]): string {
  return [
    ...n.risks.map((r) => (r === 'unrated' ? 'not yet rated' : r)),
    ...(n.overdue ? ['overdue'] : []),
    ...(n.neverSeen ? ['never visited'] : []),
    ...(n.species ? [n.species] : []),
    ...(n.siteId ? [sites.find((s) => s.id === n.siteId)?.name ?? 'one site'] : []),
  ].join(', ')
}

/** A species is narrowed by from its second letter on. */
export const namesOf = (n: Narrowing): string | undefined =>
  n.species.trim().length > 1 ? n.species.trim() : undefined

/** The narrowing as the map's filter. */
export function mapFilter(
  n: Narrowing,
  parts: {
    weeks?: readonly [number, number]
    lasso: Polygon | null
  },
): TreeFilter {
  return {
    weeks: parts.weeks,
    risks: n.risks.length > 0 ? n.risks.map((r) => (r === 'unrated' ? 0 : riskRank(r))) : undefined,
    overdue: n.overdue,
    neverSeen: n.neverSeen,
    names: namesOf(n),
    siteId: n.siteId ?? undefined,
    within: parts.lasso ? [parts.lasso] : undefined,
  }
}

/** A tree of the map as the strip counts it. */
export const countable = (tree: MapTree) => ({
  risk: riskWordOf(tree.risk),
  week: tree.week === null ? null : dateOf(tree.week),
  overdue: tree.overdue,
})
const dateOf = (day: number) => new Date(day * 86_400_000).toISOString().slice(0, 10)

/** A search's row as the map's own tree, for one that is chosen from a list. */
export const mapTreeOf = (row: TreeRow): MapTree => ({
  id: row.id,
  tag: row.tag,
  risk: riskRank(row.risk),
  overdue: row.overdueDays > 0,
  seen: row.seen,
  ratingOpen: row.ratingOpen,
  status: row.status,
  week: row.due ? dayNumber(mondayOf(row.due.on)) : null,
  position: row.position,
  names: `${row.species} | ${row.commonName ?? ''}`.toLowerCase(),
  siteId: row.siteId,
})
