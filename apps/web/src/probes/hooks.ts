import { useQuery } from '@tanstack/react-query'
import type { Probe } from '@underbough/model'
import { liveQuery } from 'dexie'
import { useEffect, useState } from 'react'
import { api } from '../api/index.ts'
import { type KeptReading, readingsOfTree } from './store.ts'

const none: readonly KeptReading[] = []

/** Readings of a tree that this device keeps and the office lacks, followed as they come and go. */
export function useReadingsHere(treeId: string): readonly KeptReading[] {
  const [here, setHere] = useState<readonly KeptReading[]>(none)
  useEffect(() => {
    // A browser that keeps nothing has nothing to show.
    const watch = liveQuery(() => readingsOfTree(treeId)).subscribe({ next: setHere, error: () => {} })
    return () => watch.unsubscribe()
  }, [treeId])
  return here
}

/** Readings of a tree in the office, those of the newest visit first. */
export const useProbes = (treeId: string) =>
  useQuery({
    queryKey: ['tree', treeId, 'probes'],
    queryFn: () => api.get<{ probes: Probe[] }>(`/trees/${treeId}/probes`).then((a) => a.probes),
  })
