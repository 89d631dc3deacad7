import { useIsMutating, useQueryClient } from '@tanstack/react-query'
import type { Keeping } from '@underbough/pictures'
import { useEffect, useSyncExternalStore } from 'react'
import { onTaken, rememberName, useKeepState } from '../keep/index.ts'
import { sayTime } from '../look/index.ts'
import { usePerson } from './person.ts'

const listen = (tell: () => void) => {
  window.addEventListener('online', tell)
  window.addEventListener('offline', tell)
  return () => {
    window.removeEventListener('online', tell)
    window.removeEventListener('offline', tell)
  }
}
/** Whether the browser believes that there is a network. */
export const useOnline = (): boolean => useSyncExternalStore(listen, () => navigator.onLine)

/** Where this person's entries are, in glyph and words, for the head. */
export function useKeeping(): { keeping: Keeping; words: string; online: boolean } {
  const { personId } = usePerson()
  const { waiting, metAt } = useKeepState()
  const online = useOnline()
  const writing = useIsMutating() > 0
  const mine = waiting.get(personId) ?? { waiting: 0, refused: 0 }
  const others = waiting.size - (waiting.has(personId) ? 1 : 0)
  const say = (keeping: Keeping, words: string) => ({ keeping, words, online })
  if (mine.refused > 0) return say('not-kept', `Refused: ${mine.refused}`)
  if (mine.waiting > 0) return say('on-this-phone', `On this phone: ${mine.waiting}`)
  if (!online) return say('on-this-phone', 'No signal')
  if (writing) return say('not-kept', 'Keeping')
  if (others > 0) return say('on-this-phone', 'Others’ entries here')
  return say('in-the-office', metAt === null ? 'At the office' : `At the office, ${sayTime(metAt)}`)
}

/** What entries of this device change at the office; pages ask for it anew once they were taken. */
const changedByEntries = [
  'tree',
  'trees',
  'due',
  'today',
  'tiles',
  'urgent',
  'works',
  'records',
  'visits',
  'zones',
  'photos',
]

/** Call once, in the head: pages learn of what was taken, and a closed door of the office is shown. */
export function useFreshAnswers(): void {
  const memory = useQueryClient()
  const { personId, name } = usePerson()
  const { signedOut } = useKeepState()
  useEffect(
    () =>
      onTaken(() => {
        for (const key of changedByEntries) void memory.invalidateQueries({ queryKey: [key] })
      }),
    [memory],
  )
  useEffect(() => {
    if (signedOut) void memory.invalidateQueries({ queryKey: ['here'] })
  }, [signedOut, memory])
  // On a shared device others see whose entries wait, and no more.
  useEffect(() => void rememberName(personId, name).catch(() => {}), [personId, name])
}
