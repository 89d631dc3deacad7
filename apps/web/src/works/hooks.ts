import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { DecisionAnswer, Work, WorkState } from '@underbough/model'
import { api } from '../api/index.ts'
import type { WorkOfTree } from './order.ts'

export const useWorks = () =>
  useQuery({
    queryKey: ['works'],
    queryFn: () => api.get<{ works: WorkOfTree[] }>('/works').then((answer) => answer.works),
  })

/** A change to a work dates its tree anew. */
function useChange<T>(give: (value: T) => Promise<Work>) {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: give,
    onSuccess: () =>
      Promise.all(
        ['works', 'tree', 'trees', 'due', 'tiles'].map((key) =>
          memory.invalidateQueries({ queryKey: [key] }),
        ),
      ),
  })
}
export const useSetState = (id: string) =>
  useChange((to: { state: WorkState; doneOn: string | null; doneBy: string | null }) =>
    api.put<Work>(`/works/${id}`, to),
  )
export const useDecide = (id: string) =>
  useChange((decision: { answer: DecisionAnswer; on: string; reason: string; by?: string }) =>
    api.post<Work>(`/works/${id}/decision`, decision),
  )
