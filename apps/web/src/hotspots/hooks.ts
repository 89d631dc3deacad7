import { useQuery } from '@tanstack/react-query'
import type { Position, ZoneKind } from '@underbough/model'
import { api, type Spread, type TreeRow } from '../api/index.ts'

/** One zone with what hangs over it. */
export interface Hotspot {
  zone: { id: string; name: string; kind: ZoneKind; place: Position }
  /** If the tree that bears most on it falls. */
  people: Spread
  /** The mean numbers of all trees rated moderate or more, added. */
  sumModerate: number
  trees: number
  treesModerate: number
  /** Highest risk first, then most people. */
  worst: TreeRow[]
  rank: number
}

export const useHotspots = () =>
  useQuery({
    queryKey: ['zones', 'hotspots'],
    queryFn: () => api.get<{ zones: Hotspot[]; computedAt: string | null }>('/hotspots', { limit: 500 }),
  })
