import { useSyncExternalStore } from 'react'

/** Whether the window is at least so wide, in CSS pixels. What a phone never shows it need not fetch either. */
export function useAtLeast(widthPx: number): boolean {
  return useSyncExternalStore(
    (tell) => {
      const query = window.matchMedia(`(min-width: ${widthPx}px)`)
      query.addEventListener('change', tell)
      return () => query.removeEventListener('change', tell)
    },
    () => window.matchMedia(`(min-width: ${widthPx}px)`).matches,
  )
}
