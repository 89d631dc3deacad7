import { useEffect, useRef } from 'react'

/** How often the time at a step is written down while it is looked at. */
const EVERY_MS = 5000

/** Counts the time a step is on the screen and this page in front; hands on the seconds as they pass, and the rest on leaving. */
export function useStepClock(step: string | null, add: (step: string, seconds: number) => void) {
  const hand = useRef(add)
  hand.current = add
  useEffect(() => {
    if (!step) return
    let since: number | null = document.visibilityState === 'visible' ? performance.now() : null
    const write = () => {
      if (since === null) return
      const at = performance.now()
      if (at - since >= 100) hand.current(step, (at - since) / 1000)
      since = document.visibilityState === 'visible' ? at : null
    }
    const turned = () => {
      write()
      since = document.visibilityState === 'visible' ? performance.now() : null
    }
    const tick = setInterval(write, EVERY_MS)
    document.addEventListener('visibilitychange', turned)
    return () => {
      clearInterval(tick)
      document.removeEventListener('visibilitychange', turned)
      write()
    }
  }, [step])
}
