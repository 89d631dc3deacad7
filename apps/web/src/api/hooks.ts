import { keepPreviousData, QueryClient, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { Closer } from '@underbough/exposure'
import type { CivilDate, Crew, GroundFeatureKind, Site, TreeInput, ZoneInput } from '@underbough/model'
import type { FeatureCollection, Geometry } from 'geojson'
import { useEffect } from 'react'
import { api, onSignedOut } from './client.ts'
import { foundHere } from './found.ts'
import { type Here, remember, signOutHere, whoIsHere } from './here.ts'
import { Refused } from './problem.ts'
import type {
  DueStrip,
  ExposureEditions,
  Job,
  MapView,
  Me,
  PlanHead,
  PlanWhole,
  TodayWhole,
  Tree,
  TreeExposureView,
  TreeRow,
  TreeWhole,
  UnderView,
  UrgentCall,
  Zone,
  ZoneRow,
  ZoneWhole,
} from './types.ts'

/** One memory of what the server said. A refusal is an answer, so it is not asked again; silence is asked again twice. */
export function makeMemory(): QueryClient {
  return new QueryClient({
    defaultOptions: {
      // Asked even where the browser believes that there is no network: this device may keep the answer.
      mutations: { networkMode: 'always' },
      queries: {
        networkMode: 'always',
        staleTime: 20_000,
        retry: (times, error) =>
          times < 2 && !(error instanceof Refused && error.status !== 0 && error.status < 500),
      },
    },
  })
}

const AGAIN_MS = 30_000
/** Who is at this device. Refused with `signed-out` (and the demo's accounts, where there are any) when nobody is known here. */
export function useHere() {
  const memory = useQueryClient()
  useEffect(() => onSignedOut(() => void memory.invalidateQueries({ queryKey: ['here'] })), [memory])
  return useQuery({
    queryKey: ['here'],
    queryFn: whoIsHere,
    staleTime: (query) => (query.state.data?.standing === 'signed-in' ? 300_000 : 0),
    refetchInterval: (query) => (query.state.data?.standing === 'unreached' ? AGAIN_MS : false),
  })
}

/** All that pages have asked; who is here is not theirs. */
const isOfPages = ({ queryKey }: { queryKey: readonly unknown[] }) => queryKey[0] !== 'here'
const forget = (memory: QueryClient) => memory.removeQueries({ predicate: isOfPages })

export function useSignIn() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: async (who: { email: string; password: string }) => {
      const { me } = await api.post<{ me: Me }>('/session', who)
      await remember(me)
      return me
    },
    onSuccess: (me) => {
      const before = memory.getQueryData<Here>(['here'])
      // The same person goes on where they were; what another one was shown is forgotten.
      if (before?.me.personId !== me.personId) forget(memory)
      memory.setQueryData<Here>(['here'], { me, standing: 'signed-in', demo: [] })
      void memory.invalidateQueries({ predicate: isOfPages })
      // What waits on this device goes now, as it does when the signal comes back.
      window.dispatchEvent(new Event('online'))
    },
  })
}
export function useSignOut() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: signOutHere,
    onSuccess: () => {
      forget(memory)
      return memory.resetQueries({ queryKey: ['here'] })
    },
  })
}

export const useSites = () =>
  useQuery({
    queryKey: ['sites'],
    queryFn: () => api.get<Listed<'sites', Site>>('/sites').then(listOf('sites')),
  })
export const useCrews = () =>
  useQuery({
    queryKey: ['crews'],
    queryFn: () => api.get<Listed<'crews', Crew>>('/crews').then(listOf('crews')),
  })

/** Lists come bare or under their name. */
type Listed<K extends string, T> = T[] | Record<K, T[]>
const listOf =
  <K extends string>(name: K) =>
  <T>(answer: Listed<K, T>): T[] =>
    Array.isArray(answer) ? answer : answer[name]

export interface TreeSearch {
  q?: string
  ids?: readonly string[]
  risk?: readonly string[]
  overdue?: boolean
  seen?: boolean
  names?: string
  siteId?: string | null
  dueFrom?: CivilDate
  dueUntil?: CivilDate
  /** At most 2000. */
  limit?: number
  offset?: number
}
export const useTrees = (search: TreeSearch, enabled = true) =>
  useQuery({
    queryKey: ['trees', search],
    queryFn: ({ signal }) => api.get<{ trees: TreeRow[]; total: number }>('/trees', { ...search }, signal),
    placeholderData: keepPreviousData,
    enabled,
  })
/** A tree with its records; one that was met on the way is answered from this device until the office has it. */
export const useTree = (id: string | null) =>
  useQuery({
    queryKey: ['tree', id],
    queryFn: () =>
      api.get<TreeWhole>(`/trees/${id}`).catch(async (error: unknown) => {
        const found = await foundHere(id!).catch(() => null)
        if (!found) throw error
        return found
      }),
    enabled: id !== null,
  })
export const useTreeExposure = (id: string | null) =>
  useQuery({
    queryKey: ['tree', id, 'exposure'],
    queryFn: () =>
      api
        .get<{ exposure: TreeExposureView | null; under?: UnderView | null }>(`/trees/${id}/exposure`)
        .then(({ exposure, under }) => exposure && { ...exposure, under: under ?? null }),
    enabled: id !== null,
  })
/** What moves those figures; worked out by the office when it is asked. */
export const useTreeCloser = (id: string) =>
  useQuery({
    queryKey: ['tree', id, 'exposure', 'closer'],
    queryFn: () =>
      api.get<{ closer: Closer | null }>(`/trees/${id}/exposure/closer`).then(({ closer }) => closer),
  })
/** What exposure assumes in this organisation. */
export const useExposurePolicy = () =>
  useQuery({
    queryKey: ['exposure-policy'],
    queryFn: () => api.get<ExposureEditions>('/exposure-policy'),
    staleTime: 300_000,
  })

export const useZones = () =>
  useQuery({
    queryKey: ['zones'],
    queryFn: () => api.get<Listed<'zones', ZoneRow>>('/zones').then(listOf('zones')),
  })
/** A zone and what hangs over it. */
export const useZone = (id: string | null) =>
  useQuery({
    queryKey: ['zone', id],
    queryFn: () => api.get<ZoneWhole>(`/zones/${id}`),
    enabled: id !== null,
  })

export const useDueStrip = (question: {
  weeksBack: number
  weeksAhead: number
  siteId?: string | null
  names?: string
  seen?: boolean
}) =>
  useQuery({
    queryKey: ['due', 'weeks', question],
    queryFn: () => api.get<DueStrip>('/due/weeks', { ...question }),
    placeholderData: keepPreviousData,
  })

export const useMapView = () =>
  useQuery({ queryKey: ['map', 'view'], queryFn: () => api.get<MapView>('/map/view'), staleTime: 600_000 })
/** Versions of the tiles; a new version makes the map fetch again. */
export const useTilesVersion = () =>
  useQuery({
    queryKey: ['tiles', 'version'],
    queryFn: () => api.get<{ trees: string; ground: string }>('/tiles/version'),
    refetchInterval: 60_000,
  })
export const useGroundFeatures = (bbox: readonly number[] | null) =>
  useQuery({
    queryKey: ['ground', bbox],
    queryFn: () =>
      api.get<FeatureCollection<Geometry, { id: string; kind: GroundFeatureKind; name: string | null }>>(
        '/ground-features',
        {
          bbox: bbox?.join(','),
        },
      ),
    enabled: bbox !== null,
    staleTime: 600_000,
  })

export const usePlans = () =>
  useQuery({
    queryKey: ['plans'],
    queryFn: () => api.get<Listed<'plans', PlanHead>>('/plans').then(listOf('plans')),
  })
export const usePlan = (id: string | null) =>
  useQuery({
    queryKey: ['plan', id],
    queryFn: () => api.get<PlanWhole>(`/plans/${id}`),
    enabled: id !== null,
  })

/** The issued day of the person's own crew. */
export const useToday = (date: CivilDate | null) =>
  useQuery({
    queryKey: ['today', date],
    queryFn: () => api.get<TodayWhole>('/today', { date }),
    placeholderData: keepPreviousData,
  })
/** What a person asks of a plan. */
export interface PlanWish {
  from: CivilDate
  days: number
  crewIds: string[] | null
  siteId: string | null
  seed: number
}
export function useMakePlan() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: (wish: PlanWish) =>
      api.post<{ planId: string; number: number; jobId: string }>('/plans', wish),
    onSuccess: () => memory.invalidateQueries({ queryKey: ['plans'] }),
  })
}
export function usePublish() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: ({ id, dates }: { id: string; dates: CivilDate[] | null }) =>
      api.post<{ published: number }>(`/plans/${id}/publish`, { dates }),
    onSuccess: () =>
      Promise.all(
        ['plans', 'plan', 'due', 'today'].map((key) => memory.invalidateQueries({ queryKey: [key] })),
      ),
  })
}
/** A job, asked twice a second until it has ended. */
export const useJob = (id: string | null) =>
  useQuery({
    queryKey: ['job', id],
    queryFn: () => api.get<Job>(`/jobs/${id}`),
    enabled: id !== null,
    refetchInterval: (query) => (query.state.data && hasEnded(query.state.data) ? false : 500),
  })
export const hasEnded = (job: Job): boolean => ['done', 'cancelled', 'failed'].includes(job.state)
export const useCancelJob = () => useMutation({ mutationFn: (id: string) => api.post(`/jobs/${id}/cancel`) })

/** Urgent notes that nobody in the office has acknowledged. */
export const useUrgentNotes = (enabled = true) =>
  useQuery({
    queryKey: ['urgent'],
    queryFn: () => api.get<{ notes: UrgentCall[] }>('/urgent-notes', { open: true }).then((a) => a.notes),
    refetchInterval: 60_000,
    enabled,
  })
export function useAcknowledge() {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: ({ id, whatWasDone }: { id: string; whatWasDone: string }) =>
      api.post(`/urgent-notes/${id}/acknowledge`, { whatWasDone }),
    onSettled: () =>
      Promise.all(['urgent', 'tree'].map((key) => memory.invalidateQueries({ queryKey: [key] }))),
  })
}

/** After any change to what stands on the ground: figures, dates and tiles may all have moved. */
function useGroundChanged() {
  const memory = useQueryClient()
  return () =>
    Promise.all(
      ['zones', 'zone', 'tree', 'trees', 'due', 'tiles', 'urgent'].map((key) =>
        memory.invalidateQueries({ queryKey: [key] }),
      ),
    )
}
export function useKeepZone() {
  const changed = useGroundChanged()
  return useMutation({
    mutationFn: (zone: ZoneInput & { id?: string; version?: number }) =>
      zone.id ? api.put<Zone>(`/zones/${zone.id}`, zone) : api.post<Zone>('/zones', zone),
    onSuccess: changed,
  })
}
export function useRemoveZone() {
  const changed = useGroundChanged()
  return useMutation({ mutationFn: (id: string) => api.delete(`/zones/${id}`), onSuccess: changed })
}
export function useKeepTree() {
  const changed = useGroundChanged()
  return useMutation({
    mutationFn: (tree: TreeInput & { id?: string; version?: number }) =>
      tree.id ? api.put<Tree>(`/trees/${tree.id}`, tree) : api.post<Tree>('/trees', tree),
    onSuccess: changed,
  })
}
