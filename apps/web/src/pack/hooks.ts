import { useQuery } from '@tanstack/react-query'
import { type CivilDate, today } from '@underbough/model'
import { useCallback, useEffect, useSyncExternalStore } from 'react'
import { api } from '../api/index.ts'
import { usePerson } from '../shell/index.ts'
import { type PackState, Packs } from './packs.ts'
import { recordsOf } from './records.ts'

/** The office is asked this often whether the day changed. */
const AGAIN_MS = 5 * 60_000

let packs: Packs | null = null
/** The days of the person here; another person's fetching stops when they come. */
function packsOf(personId: string): Packs {
  if (packs?.personId === personId) return packs
  packs?.close()
  packs = new Packs(personId)
  return packs
}

export interface DayPack {
  state: PackState
  /** Fetches the day, or what is lacking of it. */
  fetch(): void
  drop(): void
}

/**
 * How an issued day stands on this device. With `follow` it is fetched by itself, and again when the office has changed it:
 * at once, when the signal comes back, when the page is looked at again, and every five minutes.
 */
export function useDayPack(date: CivilDate, follow = false): DayPack {
  const { personId, organisation } = usePerson()
  const mine = packsOf(personId)
  const state = useSyncExternalStore(mine.listen, () => mine.stateOf(date))
  const look = useCallback(
    (fetch: boolean) => void mine.look(date, today(organisation.timeZone), fetch),
    [mine, date, organisation.timeZone],
  )
  useEffect(() => {
    look(follow)
    if (!follow) return
    const again = () => document.visibilityState === 'visible' && look(true)
    const timer = setInterval(again, AGAIN_MS)
    window.addEventListener('online', again)
    document.addEventListener('visibilitychange', again)
    return () => {
      clearInterval(timer)
      window.removeEventListener('online', again)
      document.removeEventListener('visibilitychange', again)
    }
  }, [look, follow])
  return { state, fetch: () => look(true), drop: () => void mine.drop(date) }
}

export interface DayAhead {
  date: CivilDate
  trees: number
  bytes: number
}
/** Issued days after today, the nearest first: from the office, or those that this device keeps. */
export function useDaysAhead(): readonly DayAhead[] {
  const { personId, organisation } = usePerson()
  const now = today(organisation.timeZone)
  const asked = useQuery({
    queryKey: ['days', personId],
    queryFn: () =>
      api
        .get<{ days: DayAhead[] }>('/days', { days: 8 })
        .then((answer) => answer.days)
        .catch(() => recordsOf(personId) as Promise<DayAhead[]>),
  })
  return (asked.data ?? []).filter((day) => day.date > now)
}
