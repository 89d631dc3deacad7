import { useSyncExternalStore } from 'react'
import { isInHand } from './inHand.ts'

const HOUR_MS = 3_600_000

/** `waits`: a new version is on this device. `busy`: it was asked for, while another window has a visit open. */
type Version = 'newest' | 'waits' | 'busy'
let version: Version = 'newest'
let registration: ServiceWorkerRegistration | null = null
/** Another version has taken over while something was in hand: the page is drawn anew once it is not. */
let drawAnew = false
const listeners = new Set<() => void>()
function tell(now: Version): void {
  version = now
  for (const listener of listeners) listener()
}

/**
 * Call once. Puts the program on this device, so that it opens without signal, and asks each hour for a newer one. A version that
 * waited since last time is taken now, when this is the only window and nothing is in hand.
 */
export async function startVersions(): Promise<void> {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return
  const worker = navigator.serviceWorker
  let controlled = worker.controller !== null
  worker.addEventListener('controllerchange', () => {
    if (controlled) takenOver()
    controlled = true
  })
  worker.addEventListener('message', (event) => event.data === 'busy' && tell('busy'))
  registration = await worker.register('/sw.js').catch(() => null)
  if (!registration) return
  if (registration.waiting && !isInHand(location.pathname)) registration.waiting.postMessage('take-alone')
  look()
  registration.addEventListener('updatefound', () => {
    registration?.installing?.addEventListener('statechange', look)
  })
  setInterval(() => void registration?.update().catch(() => {}), HOUR_MS)
}

function look(): void {
  if (registration?.waiting && navigator.serviceWorker.controller) tell('waits')
}
function takenOver(): void {
  if (isInHand(location.pathname)) drawAnew = true
  else location.reload()
}
/** Call when a person has gone to another place. */
export function wentTo(path: string): void {
  if (drawAnew && !isInHand(path)) location.reload()
}

/** Takes the version that waits; every window of the program is drawn anew. */
export const takeNewVersion = (): void => registration?.waiting?.postMessage('take')

const listen = (listener: () => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}
export const useVersion = (): Version => useSyncExternalStore(listen, () => version)
