const key = 'underbough.one-tap'

/** Whether a tap on *Seen, nothing found* also goes on to the next step; kept on this device. On a phone it does unless it was put off. */
export function oneTap(): boolean {
  try {
    const wish = localStorage.getItem(key)
    return wish === null ? onPhone() : wish === 'yes'
  } catch {
    return onPhone()
  }
}
const onPhone = () => typeof window !== 'undefined' && window.innerWidth < 900

export function wishOneTap(on: boolean): void {
  try {
    localStorage.setItem(key, on ? 'yes' : 'no')
  } catch {
    // A browser that keeps nothing goes by the width of its screen.
  }
}
