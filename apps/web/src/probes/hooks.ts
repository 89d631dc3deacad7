import { useQuery } from '@tanstack/react-query'
import type { Probe } from '@underbough/model'
import { api } from '../api/index.ts'
import { useLive } from '../keep/index.ts'
import { usePerson } from '../shell/index.ts'
import { type KeptReading, readingsOfTree } from './store.ts'

const none: KeptReading[] = []

/** This person's readings of a tree that the office lacks, followed as they come and go. */
export function useReadingsHere(treeId: string): readonly KeptReading[] {
  const { personId } = usePerson()
  return useLive(`${treeId} ${personId}`, () => readingsOfTree(treeId, personId), none)
}

/** Readings of a tree in the office, those of the newest visit first. */
export const useProbes = (treeId: string) =>
  useQuery({
    queryKey: ['tree', treeId, 'probes'],
    queryFn: () => api.get<{ probes: Probe[] }>(`/trees/${treeId}/probes`).then((a) => a.probes),
  })
