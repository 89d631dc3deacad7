import { useSyncExternalStore } from 'react'

/** Paper by day, bark by night, sun against glare. `system` follows what the person's device asks for. */
export type GroundWish = 'system' | Ground
export type Ground = 'paper' | 'bark' | 'sun'

const key = 'underbough.ground'
const listeners = new Set<() => void>()
const dark = () => window.matchMedia('(prefers-color-scheme: dark)')

export function groundWish(): GroundWish {
  try {
    const kept = localStorage.getItem(key)
    return kept === 'paper' || kept === 'bark' || kept === 'sun' ? kept : 'system'
  } catch {
    return 'system'
  }
}

/** What is shown now. */
export const groundNow = (): Ground => {
  const wish = groundWish()
  return wish === 'system' ? (dark().matches ? 'bark' : 'paper') : wish
}

/** Keeps the wish on this device and shows it at once. */
export function wishGround(wish: GroundWish): void {
  try {
    if (wish === 'system') localStorage.removeItem(key)
    else localStorage.setItem(key, wish)
  } catch {
    // A browser that keeps nothing still shows the wish until the page is left.
  }
  if (wish === 'system') delete document.documentElement.dataset.ground
  else document.documentElement.dataset.ground = wish
  for (const tell of listeners) tell()
}

/** Call once, before the first drawing. */
export function startGround(): void {
  const wish = groundWish()
  if (wish !== 'system') document.documentElement.dataset.ground = wish
}

const listen = (tell: () => void) => {
  const query = dark()
  query.addEventListener('change', tell)
  listeners.add(tell)
  return () => {
    query.removeEventListener('change', tell)
    listeners.delete(tell)
  }
}
/** The ground shown now, for what is drawn outside CSS. */
export const useGround = (): Ground => useSyncExternalStore(listen, groundNow)
export const useGroundWish = (): GroundWish => useSyncExternalStore(listen, groundWish)
