import { useIsMutating } from '@tanstack/react-query'
import type { Keeping } from '@underbough/pictures'
import { useSyncExternalStore } from 'react'
import { sayTime } from '../look/index.ts'

/** What waits on this device, and when the office last took something. The phone's own queue tells it here. */
interface Kept {
  waiting: number
  lastKeptAt: number
  online: boolean
}
let kept: Kept = {
  waiting: 0,
  lastKeptAt: Date.now(),
  online: typeof navigator === 'undefined' || navigator.onLine,
}
const listeners = new Set<() => void>()

/** Changes what is known about keeping; every part is optional. */
export function tellKeeping(change: Partial<Kept>): void {
  kept = { ...kept, ...change }
  for (const tell of listeners) tell()
}
if (typeof window !== 'undefined') {
  window.addEventListener('online', () => tellKeeping({ online: true }))
  window.addEventListener('offline', () => tellKeeping({ online: false }))
}

const listen = (tell: () => void) => {
  listeners.add(tell)
  return () => listeners.delete(tell)
}
/** The keeping state in glyph and words, for the head. */
export function useKeeping(): { keeping: Keeping; words: string; online: boolean } {
  const now = useSyncExternalStore(listen, () => kept)
  const sending = useIsMutating()
  if (now.waiting > 0)
    return { keeping: 'on-this-phone', words: `${now.waiting} kept on this device`, online: now.online }
  if (!now.online) return { keeping: 'on-this-phone', words: 'No signal', online: false }
  if (sending > 0) return { keeping: 'not-kept', words: 'Keeping', online: true }
  return { keeping: 'in-the-office', words: `All kept, ${sayTime(now.lastKeptAt)}`, online: true }
}
