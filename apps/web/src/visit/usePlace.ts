import { useEffect, useRef, useState } from 'react'

/** How the device stands to its position: not asked, asked, known within some metres, refused by its person, or not to be had here. */
export type PlaceState =
  | { kind: 'off' }
  | { kind: 'asking' }
  | { kind: 'known'; accuracyM: number }
  | { kind: 'refused' }
  | { kind: 'none' }

/**
 * Watches the position while `active`, and hands on the accuracy of each fix. Nothing is watched in between, so that the battery
 * lasts; where its person refuses, that is said and the visit goes on without.
 */
export function usePlace(active: boolean, onAccuracy: (metres: number) => void): PlaceState {
  const [state, setState] = useState<PlaceState>({ kind: 'off' })
  const hand = useRef(onAccuracy)
  hand.current = onAccuracy
  useEffect(() => {
    if (!active) return
    if (!('geolocation' in navigator)) {
      setState({ kind: 'none' })
      return
    }
    setState((now) => (now.kind === 'known' || now.kind === 'refused' ? now : { kind: 'asking' }))
    const watch = navigator.geolocation.watchPosition(
      ({ coords }) => {
        setState({ kind: 'known', accuracyM: coords.accuracy })
        hand.current(coords.accuracy)
      },
      (error) => setState({ kind: error.code === error.PERMISSION_DENIED ? 'refused' : 'none' }),
      { enableHighAccuracy: true, maximumAge: 5000, timeout: 30_000 },
    )
    return () => navigator.geolocation.clearWatch(watch)
  }, [active])
  return state
}

/** `position within 4 m`; empty while nothing is known. */
export function sayPlaceState(state: PlaceState): string {
  if (state.kind === 'known') return `position within ${Math.max(1, Math.round(state.accuracyM))} m`
  if (state.kind === 'refused') return 'position refused: kept without'
  return state.kind === 'none' ? 'no position here' : ''
}
