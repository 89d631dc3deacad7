import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { FailureInput, RiskWord } from '@underbough/model'
import { api, type TreeRow } from '../api/index.ts'

/** A closed visit as one line. */
export interface VisitHead {
  id: string
  level: 1 | 2 | 3
  startedAt: string
  closedAt: string | null
  couldNotSee: string
  personName: string
  findings: number
  /** Of the rating made on this visit. */
  risk: RiskWord | null
  tree: TreeRow
}

export const useFailures = () =>
  useQuery({
    queryKey: ['failures'],
    queryFn: () => api.get<{ failures: FailureInput[] }>('/failures').then((answer) => answer.failures),
  })
export const useLatestVisits = (limit: number) =>
  useQuery({
    queryKey: ['visits', 'latest', limit],
    queryFn: () => api.get<{ visits: VisitHead[] }>('/visits', { limit }).then((answer) => answer.visits),
  })

export function useKeepFailure() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: (failure: FailureInput) => api.post('/failures', failure),
    onSuccess: () =>
      Promise.all(['failures', 'tree'].map((key) => memory.invalidateQueries({ queryKey: [key] }))),
  })
}
