import { useSyncExternalStore } from 'react'

/** What is known of keeping and sending on this device, for the head and the page of what waits. */
export interface KeepState {
  /** Entries of each author that the office has not got, and those of them that need their person. */
  waiting: ReadonlyMap<string, { waiting: number; refused: number }>
  /** Device clock, ms: when the office last answered; null before it has. */
  metAt: number | null
  sending: boolean
  /** Nobody is signed in at the office: nothing can go, work goes on. */
  signedOut: boolean
  /** When the next try is made, device clock, ms; null where nothing waits for one. */
  nextTryAt: number | null
  /** Whether the browser promised not to clear this device's records by itself; null where it was not asked yet. */
  persisted: boolean | null
  room: { usageBytes: number; quotaBytes: number; isShort: boolean } | null
}
let state: KeepState = {
  waiting: new Map(),
  metAt: null,
  sending: false,
  signedOut: false,
  nextTryAt: null,
  persisted: null,
  room: null,
}
const listeners = new Set<() => void>()

export function tellKeep(change: Partial<KeepState>): void {
  state = { ...state, ...change }
  for (const listener of listeners) listener()
}
export const keepState = (): KeepState => state
const listen = (listener: () => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}
export const useKeepState = (): KeepState => useSyncExternalStore(listen, keepState)
