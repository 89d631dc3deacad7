import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { WindSuggestion } from '@underbough/exchange/wind'
import type { GustDay, Site, WindFile, WindRequest } from '@underbough/model'
import { api } from '../api/index.ts'

/** What the office sees in a file before it is read. */
export interface WindLooked extends WindSuggestion {
  rows: number
  columns: { name: string; samples: string[] }[]
}

export const useWind = (siteId: string | null) =>
  useQuery({
    queryKey: ['wind', siteId],
    queryFn: () => api.get<{ files: WindFile[]; days: GustDay[] }>(`/sites/${siteId}/wind`),
    enabled: siteId !== null,
  })

export const useLookAtWind = (siteId: string) =>
  useMutation({
    mutationFn: (file: File) => {
      const form = new FormData()
      form.set('file', file)
      return api.send<WindLooked>(`/sites/${siteId}/wind/look`, form)
    },
  })

export function useReadWind(siteId: string) {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: ({ file, request }: { file: File; request: WindRequest }) => {
      const form = new FormData()
      form.set('file', file)
      form.set('request', JSON.stringify(request))
      return api.send<WindFile>(`/sites/${siteId}/wind`, form)
    },
    onSuccess: () => memory.invalidateQueries({ queryKey: ['wind', siteId] }),
  })
}

export function useAcceptRose() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: ({ id, version }: { id: string; version: number }) =>
      api.post<{ site: Site; jobId: string | null }>(`/wind-files/${id}/accept`, { version }),
    onSettled: () =>
      Promise.all(['sites', 'wind'].map((key) => memory.invalidateQueries({ queryKey: [key] }))),
  })
}
