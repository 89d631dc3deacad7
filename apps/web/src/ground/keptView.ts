import type { Bounds } from '../map/index.ts'

const key = 'underbough.view'
let timer: ReturnType<typeof setTimeout> | undefined

/** Where this device looked last; null the first time, or where nothing can be kept. */
export function keptView(): Bounds | null {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(key) ?? 'null')
    return Array.isArray(kept) && kept.length === 4 && kept.every(Number.isFinite)
      ? (kept as unknown as Bounds)
      : null
  } catch {
    return null
  }
}

/** Keeps the view a moment after it came to rest. */
export function keepView(bounds: Bounds): void {
  clearTimeout(timer)
  timer = setTimeout(() => {
    try {
      localStorage.setItem(key, JSON.stringify(bounds))
    } catch {
      // A browser that keeps nothing opens on the whole ground next time.
    }
  }, 500)
}
