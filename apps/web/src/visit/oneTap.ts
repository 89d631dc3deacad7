const key = 'underbough.one-tap'

/** Whether a tap on *Seen, nothing found* also goes on to the next step; kept on this device. */
export function oneTap(): boolean {
  try {
    return localStorage.getItem(key) === 'yes'
  } catch {
    return false
  }
}
export function wishOneTap(on: boolean): void {
  try {
    on ? localStorage.setItem(key, 'yes') : localStorage.removeItem(key)
  } catch {
    // A browser that keeps nothing asks for two taps again next time.
  }
}
