import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { ExposurePolicy } from '@underbough/exposure'
import type { Crew, Member, Site } from '@underbough/model'
import type { Policy, PolicyDraft } from '@underbough/rating'
import { api, type ExposureEditions } from '../api/index.ts'

export const usePolicy = () =>
  useQuery({
    queryKey: ['policy'],
    queryFn: () => api.get<{ policy: Policy }>('/policy').then((answer) => answer.policy),
  })
/** Keeps a new edition; every date is reckoned anew as a job. */
export function useKeepPolicy() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: (policy: PolicyDraft) => api.put<{ policy: Policy; jobId: string }>('/policy', { policy }),
    onSuccess: ({ policy }) => memory.setQueryData(['policy'], policy),
  })
}
/** Keeps the next edition of what exposure assumes; every tree is computed anew as a job. */
export function useKeepExposurePolicy() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: (change: { version: number; policy: ExposurePolicy; reason: string }) =>
      api.put<ExposureEditions & { jobId: string }>('/exposure-policy', change),
    onSuccess: ({ jobId: _, ...stored }) => memory.setQueryData(['exposure-policy'], stored),
  })
}
/** After trees were computed anew. */
export function useFiguresMoved() {
  const memory = useQueryClient()
  return () =>
    Promise.all(
      ['tree', 'trees', 'zone', 'zones', 'hotspots'].map((key) =>
        memory.invalidateQueries({ queryKey: [key] }),
      ),
    )
}
/** After dates were reckoned anew. */
export function useDatesMoved() {
  const memory = useQueryClient()
  return () =>
    Promise.all(
      ['due', 'tree', 'trees', 'tiles', 'works'].map((key) => memory.invalidateQueries({ queryKey: [key] })),
    )
}

export const usePeople = () =>
  useQuery({
    queryKey: ['people'],
    queryFn: () => api.get<{ people: Member[] }>('/people').then((answer) => answer.people),
  })

export type CrewInput = Omit<Crew, 'id' | 'version' | 'createdAt' | 'updatedAt'>
export function useKeepCrew() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: ({ id, ...crew }: CrewInput & { id?: string; version?: number }) =>
      id ? api.put<Crew>(`/crews/${id}`, crew) : api.post<Crew>('/crews', crew),
    onSuccess: () => memory.invalidateQueries({ queryKey: ['crews'] }),
  })
}
export function useRemoveCrew() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: (id: string) => api.delete(`/crews/${id}`),
    onSuccess: () => memory.invalidateQueries({ queryKey: ['crews'] }),
  })
}
export function useKeepSite() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: ({ id, ...site }: Site) => api.put<Site>(`/sites/${id}`, site),
    onSuccess: () => memory.invalidateQueries({ queryKey: ['sites'] }),
  })
}
