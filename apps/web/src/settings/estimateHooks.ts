import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { CivilDate } from '@underbough/model'
import type {
  Agreement,
  FailureBands,
  LineVerdict,
  Mover,
  OwnRecord,
  Span,
  Vulnerability,
} from '@underbough/rating'
import { api } from '../api/index.ts'

export interface NamedUserInput {
  who: string
  zoneId: string
  hoursPerYear: number
}
export interface Decided {
  bands: FailureBands
  vulnerability: Vulnerability
  users: NamedUserInput[]
  recordsSince: CivilDate
}
export interface EstimateDecision {
  number: number
  on: boolean
  text: string
  madeBy: string
  madeAt: string
  decided: Decided | null
  agreement: Agreement | null
}
export interface NamedUser extends NamedUserInput {
  zoneName: string
  perYear: Span
  verdict: LineVerdict
  trees: number
}
export interface EstimateState {
  on: boolean
  decisions: EstimateDecision[]
  agreement: Agreement | null
  startingBands: FailureBands
  users: NamedUser[]
}
export interface EstimateCheck {
  since: CivilDate
  agreement: Agreement
  record: OwnRecord
}

export const useEstimate = (enabled = true) =>
  useQuery({ queryKey: ['estimate'], queryFn: () => api.get<EstimateState>('/estimate'), enabled })

/** Bands held against the failures on record, as they are changed. */
export const useEstimateCheck = (bands: FailureBands | null, since: CivilDate | null) =>
  useQuery({
    queryKey: ['estimate', 'check', bands, since],
    queryFn: () => api.post<EstimateCheck>('/estimate/check', { bands, since }),
    enabled: bands !== null,
    placeholderData: keepPreviousData,
  })

export function useDecide() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: (decision: { number: number; on: boolean; text: string; decided: Decided | null }) =>
      api.post<{ decisions: EstimateDecision[] }>('/estimate/decisions', decision),
    onSuccess: () => memory.invalidateQueries({ queryKey: ['estimate'] }),
  })
}

export interface TreeEstimate {
  decidedOn: string
  bandsEdition: string
  perYear: Span
  anyFails: { least: number; most: number }
  scenarios: {
    part: 'whole-tree' | 'stem' | 'limb'
    description: string
    failure: string
    timeFrameYears: number
    yearly: Span
    perYear: Span
    zones: { id: string; name: string; perYear: Span }[]
  }[]
  movers: Mover[]
  workedOnSince: boolean
  mostExposed: NamedUser | null
}
export const useTreeEstimate = (treeId: string, enabled: boolean) =>
  useQuery({
    queryKey: ['estimate', 'tree', treeId],
    queryFn: () => api.get<{ on: boolean; tree: TreeEstimate | null }>(`/trees/${treeId}/estimate`),
    enabled,
  })
