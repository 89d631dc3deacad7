import { useQuery } from '@tanstack/react-query'
import type { EntryBody } from '@underbough/model'
import { useMemo, useState } from 'react'
import {
  api,
  type TreeWhole,
  useExposurePolicy,
  useMapView,
  useSites,
  useTree,
  useTreeExposure,
  useZones,
} from '../api/index.ts'
import { device, useLive } from '../keep/index.ts'
import { cacheHere } from '../pack/cache.ts'
import { usePerson } from '../shell/index.ts'
import { usePolicy } from '../tree/hooks.ts'
import { exposureOnPhone, wordsOf, type ZoneKept } from './around.ts'
import type { Ground } from './draft.ts'
import { type Near, nearOf } from './judgement.ts'
import { zoneUseAt } from './reckon.ts'

export interface Fresh {
  ground: Ground | null
  near: Near[]
  today: string | undefined
  error: unknown
  again(): void
}

/** All that a new visit is begun from: the tree with what this device changed on it, who is near, and the policy. */
export function useGround(treeId: string): Fresh {
  const { organisation } = usePerson()
  const [now] = useState(() => new Date())
  const here = useTreeHere(treeId)
  const exposure = useTreeExposure(treeId)
  const around = useZonesAround(treeId)
  const zones = useZones()
  const sites = useSites()
  const policy = usePolicy()
  const assumed = useExposurePolicy()
  const view = useMapView()
  const settled = [exposure, around, zones, sites, policy, assumed, view].every((query) => !query.isPending)
  const { whole } = here
  const built = useMemo(() => {
    if (!whole || !settled) return null
    const near = around.data ?? []
    const known = { ...whole, ...basisHere(whole, near, here.isNew) }
    const rose = sites.data?.find((site) => site.id === whole.tree.siteId)?.windRose ?? null
    const under =
      around.data === undefined
        ? { exposure: exposure.data ?? null, reckonedHere: false }
        : exposureOnPhone(
            exposure.data ?? null,
            whole.tree,
            rose,
            near,
            now,
            assumed.data,
            whole.rating?.scenarios,
          )
    const wordOf = { ...wordsOf(zones.data ?? []), ...wordsOf(near) }
    const words = new Map(Object.entries(wordOf))
    return {
      ground: { whole: known, ...under, organisation, policy: policy.data ?? null, wordOf },
      near: under.exposure ? nearOf(whole.tree.position, under.exposure.zones, words) : [],
    }
  }, [
    whole,
    here.isNew,
    settled,
    around.data,
    zones.data,
    sites.data,
    exposure.data,
    policy.data,
    assumed.data,
    organisation,
    now,
  ])
  return {
    ground: built?.ground ?? null,
    near: built?.near ?? [],
    today: view.data?.today,
    error: here.error,
    again: here.again,
  }
}

const basisHere = (whole: TreeWhole, zones: readonly ZoneKept[], isNew: boolean) =>
  isNew ? { dueBasis: { ...whole.dueBasis, zoneUse: zoneUseAt(whole.tree, zones) } } : {}

/** The tree as this device knows it: the office's answer, or a tree that was met on the way, with changes that wait here on top. */
function useTreeHere(treeId: string) {
  const answer = useTree(treeId)
  const changes = useLive(
    `changes of ${treeId}`,
    () =>
      device.entries
        .where({ treeId })
        .filter(({ kind, state }) => kind === 'tree-change' && state === 'waiting')
        .toArray(),
    null,
  )
  const changed = changes?.at(-1)
  const whole = useMemo((): TreeWhole | null => {
    if (!answer.data || !changed) return answer.data ?? null
    const { tree } = changed.body as EntryBody<'tree-change'>
    return { ...answer.data, tree: { ...answer.data.tree, ...tree } }
  }, [answer.data, changed])
  return {
    whole: changes === null ? null : whole,
    isNew: answer.data?.onlyHere === true,
    error: whole ? null : answer.error,
    again: () => void answer.refetch(),
  }
}

/** Zones around a tree; of one that the office does not know yet, those kept around the other trees of the day. */
export const useZonesAround = (treeId: string) =>
  useQuery({
    queryKey: ['tree', treeId, 'zones'],
    retry: false,
    queryFn: () =>
      api
        .get<{ zones: ZoneKept[] }>(`/trees/${treeId}/zones`)
        .then(({ zones }) => zones)
        .catch(async (error: unknown) => {
          const kept = await zonesOfTheDay()
          if (kept.length === 0) throw error
          return kept
        }),
  })

async function zonesOfTheDay(): Promise<ZoneKept[]> {
  const cache = await cacheHere().catch(() => null)
  const all = new Map<string, ZoneKept>()
  for (const request of (await cache?.keys()) ?? []) {
    if (!/\/api\/trees\/[^/]+\/zones$/.test(new URL(request.url).pathname)) continue
    const answer = (await (await cache!.match(request))?.json()) as { zones: ZoneKept[] } | undefined
    for (const zone of answer?.zones ?? []) all.set(zone.id, zone)
  }
  return [...all.values()]
}
