import { type PointerEvent, useRef } from 'react'

/** Calls `press` where a pointer goes down on an element, and as it moves while it is held. */
export function useHeld(press: (event: PointerEvent<HTMLDivElement>) => void) {
  const held = useRef(false)
  return {
    onPointerDown(event: PointerEvent<HTMLDivElement>) {
      held.current = true
      event.currentTarget.setPointerCapture(event.pointerId)
      press(event)
    },
    onPointerMove(event: PointerEvent<HTMLDivElement>) {
      if (held.current) press(event)
    },
    onPointerUp() {
      held.current = false
    },
  }
}
