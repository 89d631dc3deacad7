import type { KeptEntry } from '@underbough/field'
import { liveQuery } from 'dexie'
import { useEffect, useRef, useState } from 'react'
import { device } from './device.ts'

export type StandingWord = 'on-this-phone' | 'at-the-office' | 'refused'

/** How a record stands by the entries about it; null where this device has none. */
export function standingOf(entries: readonly Pick<KeptEntry, 'state'>[]): StandingWord | null {
  if (entries.some(({ state }) => state === 'refused')) return 'refused'
  if (entries.some(({ state }) => state === 'waiting')) return 'on-this-phone'
  return entries.length > 0 ? 'at-the-office' : null
}

/**
 * The newest value of a query of the device, followed in all windows; `first` until it is there, and where nothing is kept. `about` names
 * what the query depends on: another name asks anew.
 */
export function useLive<T>(about: string, query: () => Promise<T>, first: T): T {
  const [value, set] = useState(first)
  const ask = useRef(query)
  ask.current = query
  // biome-ignore lint/correctness/useExhaustiveDependencies: the name stands for what the query depends on
  useEffect(() => {
    const watch = liveQuery(() => ask.current()).subscribe({ next: set, error: () => {} })
    return () => watch.unsubscribe()
  }, [about])
  return value
}

/** Where the record of this id is: on this device, at the office, or refused by it; null where this device made no entry about it. */
export const useStanding = (subjectId: string): StandingWord | null =>
  useLive<StandingWord | null>(
    subjectId,
    async () => standingOf(await device.entries.where({ subjectId }).toArray()),
    null,
  )
