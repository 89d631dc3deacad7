import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { CivilDate, DecisionAnswer, FailureInput, WorkInput, WorkState } from '@underbough/model'
import type { EventKind, Policy } from '@underbough/rating'
import { api, type Work } from '../api/index.ts'

/** After something about one tree changed: its record, lists, weeks and tiles may have moved. */
export function useTreeChanged() {
  const memory = useQueryClient()
  return () =>
    Promise.all(
      ['tree', 'trees', 'due', 'tiles', 'urgent', 'works', 'today'].map((key) =>
        memory.invalidateQueries({ queryKey: [key] }),
      ),
    )
}

export interface Decision {
  answer: DecisionAnswer
  on: CivilDate
  reason: string
  by?: string
}
export function useDecide() {
  const changed = useTreeChanged()
  return useMutation({
    mutationFn: ({ id, ...decision }: Decision & { id: string }) =>
      api.post<Work>(`/works/${id}/decision`, decision),
    onSuccess: changed,
  })
}
export function useSetWork() {
  const changed = useTreeChanged()
  return useMutation({
    mutationFn: ({
      id,
      ...to
    }: {
      id: string
      state: WorkState
      doneOn: CivilDate | null
      doneBy: string | null
    }) => api.put<Work>(`/works/${id}`, to),
    onSuccess: changed,
  })
}
export function useProposeWork() {
  const changed = useTreeChanged()
  return useMutation({ mutationFn: (work: WorkInput) => api.post<Work>('/works', work), onSuccess: changed })
}

export interface EventInput {
  id: string
  kind: EventKind
  on: CivilDate
  lookWithinDays: number | null
  note: string
}
export function useAddEvent(treeId: string) {
  const changed = useTreeChanged()
  return useMutation({
    mutationFn: (event: EventInput) => api.post(`/trees/${treeId}/events`, event),
    onSuccess: changed,
  })
}
export function useAddFailure() {
  const changed = useTreeChanged()
  return useMutation({
    mutationFn: (failure: FailureInput) => api.post('/failures', failure),
    onSuccess: changed,
  })
}
export const usePolicy = () =>
  useQuery({
    queryKey: ['policy'],
    queryFn: () => api.get<{ policy: Policy }>('/policy').then((a) => a.policy),
    staleTime: 300_000,
  })
