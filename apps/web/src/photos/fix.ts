import type { Position } from '@underbough/model'

/** Longer than this after the press and the photo is not held up for a place. */
const WAIT_MS = 1500
/** A place this old is still where the photographer stands. */
const FRESH_MS = 60_000

/** Where this device stands, if its person has allowed that already; null otherwise. Never asks: a photo is no moment for a question. */
export async function placeNow(): Promise<Position | null> {
  try {
    const { state } = await navigator.permissions.query({ name: 'geolocation' })
    if (state !== 'granted') return null
    return await new Promise((resolve) =>
      navigator.geolocation.getCurrentPosition(
        ({ coords }) => resolve([coords.longitude, coords.latitude]),
        () => resolve(null),
        { enableHighAccuracy: true, maximumAge: FRESH_MS, timeout: WAIT_MS },
      ),
    )
  } catch {
    return null
  }
}
