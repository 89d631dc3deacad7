import { useQuery } from '@tanstack/react-query'
import type { ExposurePolicy, ZoneOnGround } from '@underbough/exposure'
import type { RiskWord, Tree, Zone } from '@underbough/model'
import { api } from '../api/index.ts'
import type { TreeFacts } from './reckon.ts'

export const useZonesAround = (treeId: string) =>
  useQuery({
    queryKey: ['tree', treeId, 'zones'],
    queryFn: () => api.get<{ zones: Zone[] }>(`/trees/${treeId}/zones`).then(({ zones }) => zones),
  })

/** A tree that may reach the zone. */
export type TreeNear = TreeFacts &
  Pick<Tree, 'id' | 'tag' | 'species' | 'commonName' | 'siteId'> & { risk: RiskWord | null }
/** A zone and all that a change of it is reckoned from. */
export interface Surroundings {
  zone: Zone
  trees: TreeNear[]
  cut: boolean
  zones: ZoneOnGround[]
  roses: { siteId: string; windRose: number[] | null }[]
  policy: ExposurePolicy
  policyEdition: number
}

export const useSurroundings = (zoneId: string, carriedM: number) =>
  useQuery({
    queryKey: ['zones', zoneId, 'surroundings', carriedM],
    queryFn: () => api.get<Surroundings>(`/zones/${zoneId}/surroundings`, { carriedM }),
  })
