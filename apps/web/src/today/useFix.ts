import type { Fix } from '@underbough/model'
import { useCallback, useEffect, useState } from 'react'

/** What is known of where the phone is. `off`: nobody has asked for it yet. */
export type Whereabouts = { state: 'off' | 'asking' | 'refused' | 'none' } | { state: 'here'; fix: Fix }

/**
 * Where this phone is, followed while the page is open. It is asked for only after a press, or at once where its person has allowed it
 * before. Everything else works without it.
 */
export function useFix(): { whereabouts: Whereabouts; start(): void } {
  const [on, setOn] = useState(false)
  const [whereabouts, set] = useState<Whereabouts>({ state: 'off' })
  useEffect(() => {
    navigator.permissions
      ?.query({ name: 'geolocation' })
      .then(({ state }) =>
        state === 'granted' ? setOn(true) : state === 'denied' && set({ state: 'refused' }),
      )
      .catch(() => {})
  }, [])
  useEffect(() => {
    if (!on) return
    if (!navigator.geolocation) {
      set({ state: 'none' })
      return
    }
    set({ state: 'asking' })
    const watch = navigator.geolocation.watchPosition(
      ({ coords, timestamp }) =>
        set({
          state: 'here',
          fix: {
            position: [coords.longitude, coords.latitude],
            accuracyM: coords.accuracy,
            at: new Date(timestamp).toISOString(),
          },
        }),
      (error) => set({ state: error.code === error.PERMISSION_DENIED ? 'refused' : 'none' }),
      { enableHighAccuracy: true, maximumAge: 10_000, timeout: 30_000 },
    )
    return () => navigator.geolocation.clearWatch(watch)
  }, [on])
  return { whereabouts, start: useCallback(() => setOn(true), []) }
}
