import { keepPreviousData, useQuery } from '@tanstack/react-query'
import type { Position, ZoneKind } from '@underbough/model'
import type { Span } from '@underbough/rating'
import { api, type TreeRow } from '../api/index.ts'
import { useEstimate } from '../settings/estimateHooks.ts'
import { mayChange, usePerson } from '../shell/index.ts'

export interface ExpectedZone {
  zone: { id: string; name: string; kind: ZoneKind; place: Position }
  /** People within an outline, expected per year: a range for ranking, not a chance. */
  perYear: Span
  trees: number
  /** The trees that bear most on it. */
  worst: { tree: TreeRow; perYear: Span }[]
  rank: number
}
export interface ExpectedZones {
  on: boolean
  zones: ExpectedZone[]
  /** Over all standing trees; those without a rating are not in it. */
  total: (Span & { rated: number; unrated: number }) | null
  /** Scenarios that a job is still working out. */
  waiting: number
}

/** True where the organisation has decided for the estimate and this person may see it; null while that is not known. */
export function useEstimateShown(): boolean | null {
  const may = mayChange(usePerson().role)
  const estimate = useEstimate(may)
  if (!may || estimate.error) return false
  return estimate.data?.on ?? null
}

export const useExpectedZones = (asked: { siteId: string | null; kind: ZoneKind | null }, limit: number) =>
  useQuery({
    queryKey: ['zones', 'expected', asked, limit],
    queryFn: () => api.get<ExpectedZones>('/estimate/zones', { ...asked, limit }),
    placeholderData: keepPreviousData,
    refetchInterval: (query) => (query.state.data?.waiting ? 3000 : false),
  })
