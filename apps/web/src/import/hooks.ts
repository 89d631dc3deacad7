import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { api } from '../api/index.ts'
import { keepBegun } from './begun.ts'
import type {
  Begun,
  ImportHead,
  ImportKind,
  ImportRows,
  ImportStatus,
  Mapping,
  RowQuestion,
} from './types.ts'

const working = (status: ImportStatus | undefined) =>
  status?.state === 'reading' || status?.state === 'writing'

/** How far an import is, asked twice a second while it is read or written. */
export const useImport = (id: string) =>
  useQuery({
    queryKey: ['import', id],
    queryFn: () => api.get<ImportStatus>(`/imports/${id}`),
    refetchInterval: (query) => (working(query.state.data) ? 500 : false),
  })

export const useImports = () =>
  useQuery({
    queryKey: ['imports'],
    queryFn: () => api.get<{ imports: ImportHead[] }>('/imports').then((answer) => answer.imports),
  })

export const useImportRows = (id: string, question: RowQuestion, page: number) =>
  useQuery({
    queryKey: ['import', id, 'rows', question, page],
    queryFn: () => api.get<ImportRows>(`/imports/${id}/rows`, { ...question, page }),
    placeholderData: keepPreviousData,
  })

/** Sends the file. What the server saw in it stays on this device until the mapping is settled. */
export function useBegin() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: ({ file, kind }: { file: File; kind: ImportKind }) => {
      const form = new FormData()
      form.set('kind', kind)
      form.set('file', file, file.name)
      return api.send<Begun>('/imports', form)
    },
    onSuccess: (begun) => {
      keepBegun(begun)
      return memory.invalidateQueries({ queryKey: ['imports'] })
    },
  })
}

/** One of the three orders about an import; each asks again how it stands. */
function useOrder<T>(id: string, give: (value: T) => Promise<unknown>) {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: give,
    onSettled: () =>
      Promise.all([
        memory.invalidateQueries({ queryKey: ['import', id] }),
        memory.invalidateQueries({ queryKey: ['imports'] }),
      ]),
  })
}
export const useRead = (id: string) =>
  useOrder(id, (mapping: Mapping) => api.post(`/imports/${id}/preview`, { mapping }))
export const useBringIn = (id: string) => useOrder<void>(id, () => api.post(`/imports/${id}/commit`))
export const useCancelImport = (id: string) => useOrder<void>(id, () => api.post(`/imports/${id}/cancel`))
