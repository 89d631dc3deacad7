import { keepPreviousData, useQuery } from '@tanstack/react-query'
import type { AreaGeometry, Position, ZoneKind } from '@underbough/model'
import { address, api, type Spread, type TreeRow } from '../api/index.ts'
import type { Bounds } from '../map/index.ts'

/** `one`: if the tree that bears most falls. `rated`: all trees rated moderate or more, added. `rating`: by the ratings over it. */
export type Basis = 'one' | 'rated' | 'rating'
/** A basis, or what is expected per year, where the organisation has that on; of zones only. */
export type Order = Basis | 'expected'
export type SpotKind = 'zones' | 'cells'

export interface SpotFigures {
  /** If the tree that bears most on it falls. */
  people: Spread
  /** The mean numbers of all trees rated moderate or more, added. */
  sumModerate: number
  trees: number
  treesModerate: number
  treesHigh: number
  treesExtreme: number
}
export type Change = 'new' | 'up' | 'down' | 'same'

/** One zone with what hangs over it, or one cell of the grid with what stands in it. */
export interface Hotspot extends SpotFigures {
  id: string
  zone: { id: string; name: string; kind: ZoneKind } | null
  cell: { x: number; y: number; ring: Position[] } | null
  place: Position
  /** How the last month ended. */
  before: SpotFigures | null
  /** Null where there is no month before this one. */
  change: Change | null
  /** The trees responsible. */
  worst: (TreeRow & { people: Spread })[]
  rank: number
}
/** What the map needs of a place to put its number there. */
export type Numbered = Pick<Hotspot, 'id' | 'zone' | 'cell' | 'place' | 'rank'>
export interface HotspotList {
  spots: Hotspot[]
  total: number
  gone: { id: string; name: string | null; kind: ZoneKind | null; before: SpotFigures }[]
  comparable: boolean
  behind: boolean
  computedAt: string | null
  methodVersion: string | null
}

export interface SpotQuestion {
  of: SpotKind
  basis: Basis
  siteId: string | null
  kind: ZoneKind | null
  /** Only what lies here. */
  within: Bounds | null
}
const asked = ({ of, basis, siteId, kind, within }: SpotQuestion) => ({
  of,
  basis,
  siteId,
  kinds: of === 'zones' ? kind : null,
  bbox: within?.map((degrees) => degrees.toFixed(6)).join(','),
})

export const useHotspots = (question: SpotQuestion, limit: number) =>
  useQuery({
    queryKey: ['zones', 'hotspots', asked(question), limit],
    queryFn: () => api.get<HotspotList>('/hotspots', { ...asked(question), limit }),
    placeholderData: keepPreviousData,
    refetchInterval: (query) => (query.state.data?.behind ? 3000 : false),
  })

/** Where the same list is had as a file. */
export const fileAddress = (question: SpotQuestion, as: 'csv' | 'geojson') =>
  address('/hotspots/file', { ...asked(question), as })

/** A tree over a zone, or in a cell, with what it bears on it. */
export type SpotTree = TreeRow & { people: Spread; pTouch: number }
export const useSpotTrees = (spot: string, basis: Basis) =>
  useQuery({
    queryKey: ['zones', 'hotspots', 'trees', spot, basis],
    queryFn: () => api.get<{ trees: SpotTree[] }>('/hotspots/trees', { spot, basis }).then((a) => a.trees),
  })

export const useOutlines = (ids: readonly string[]) =>
  useQuery({
    queryKey: ['zones', 'outlines', ids],
    queryFn: () =>
      api
        .get<{ outlines: { id: string; geometry: AreaGeometry }[] }>('/hotspots/outlines', { ids })
        .then((a) => new Map(a.outlines.map(({ id, geometry }) => [id, geometry]))),
    enabled: ids.length > 0,
  })
