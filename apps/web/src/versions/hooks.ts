import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { Tree } from '@underbough/model'
import { api } from '../api/index.ts'
import type { Beside, Choice } from './choice.ts'

/** Versions that wait for the office to choose; asked again each minute. */
export const useOpenVersions = (enabled = true) =>
  useQuery({
    queryKey: ['second-versions'],
    queryFn: () =>
      api.get<{ versions: Beside[] }>('/second-versions', { open: true }).then((answer) => answer.versions),
    refetchInterval: 60_000,
    enabled,
  })

export function useChoose() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: ({ id, take, version }: { id: string; take: Choice; version: number }) =>
      api.post<Tree>(`/second-versions/${id}/choose`, { take, version }),
    onSettled: () =>
      Promise.all(
        ['second-versions', 'tree', 'trees', 'tiles', 'due'].map((key) =>
          memory.invalidateQueries({ queryKey: [key] }),
        ),
      ),
  })
}
