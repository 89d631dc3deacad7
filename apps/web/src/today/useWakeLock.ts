import { useEffect, useState } from 'react'

/** `held`: the screen stays lit. `lost`: the device let go of it, for want of power or because another page is in front. */
export type WakeState = 'off' | 'held' | 'lost' | 'none'

const key = 'underbough.awake'
export function awakeWish(): boolean {
  try {
    return localStorage.getItem(key) !== 'no'
  } catch {
    return true
  }
}
export function wishAwake(on: boolean): void {
  try {
    localStorage.setItem(key, on ? 'yes' : 'no')
  } catch {
    // A browser that keeps nothing still follows the switch until the page is left.
  }
}

/** Keeps the screen lit while `on`, asked again each time the page comes to the front (W3C Screen Wake Lock). */
export function useWakeLock(on: boolean): WakeState {
  const [state, set] = useState<WakeState>('off')
  useEffect(() => {
    if (!on) return set('off')
    if (!('wakeLock' in navigator)) return set('none')
    let open = true
    let lock: WakeLockSentinel | null = null
    const ask = async () => {
      if (!open || document.visibilityState !== 'visible' || (lock && !lock.released)) return
      try {
        const got = await navigator.wakeLock.request('screen')
        if (!open) return void got.release()
        lock = got
        set('held')
        got.addEventListener('release', () => open && set('lost'))
      } catch {
        if (open) set('lost')
      }
    }
    const again = () => void ask()
    document.addEventListener('visibilitychange', again)
    again()
    return () => {
      open = false
      document.removeEventListener('visibilitychange', again)
      void lock?.release()
    }
  }, [on])
  return state
}
