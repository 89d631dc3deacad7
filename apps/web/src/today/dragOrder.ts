import { type PointerEvent, useState } from 'react'

/** The same list with one of it at another place. */
export function movedTo<T>(list: readonly T[], one: T, at: number): T[] {
  const rest = list.filter((other) => other !== one)
  return [...rest.slice(0, at), one, ...rest.slice(at)]
}

/** Where a row held at a height belongs: below the other rows whose middles are above it. Middles from the top, px. */
export const placeAt = (middlesPx: readonly number[], heldPx: number): number =>
  middlesPx.filter((middle) => middle < heldPx).length

/** This near to its edge a list under a held row scrolls, px, and by so much at each movement. */
const EDGE_PX = 56
const SCROLL_PX = 10

/**
 * Rows of a list drawn to another place by mouse or finger: `grip` goes onto the part of each row that is held, which must not scroll
 * under a finger (`touch-action: none`). `onMove` is called while it is drawn.
 */
export function useDragOrder(onMove: (id: string, at: number) => void) {
  const [held, setHeld] = useState<string | null>(null)
  const grip = (id: string) => ({
    onPointerDown: (event: PointerEvent<HTMLElement>) => {
      const row = event.currentTarget.closest('li')
      if (!row?.parentElement || event.button !== 0) return
      event.preventDefault()
      setHeld(id)
      // Followed in the window: a row that changes its place in the page would lose the pointer.
      const drawn = ({ clientY }: globalThis.PointerEvent) => {
        onMove(id, placeAt(middlesBeside(row), clientY))
        scrollNear(row, clientY)
      }
      const dropped = () => {
        window.removeEventListener('pointermove', drawn)
        window.removeEventListener('pointerup', dropped)
        window.removeEventListener('pointercancel', dropped)
        setHeld(null)
      }
      window.addEventListener('pointermove', drawn)
      window.addEventListener('pointerup', dropped)
      window.addEventListener('pointercancel', dropped)
    },
  })
  return { held, grip }
}

const middlesBeside = (row: Element): number[] =>
  [...(row.parentElement?.children ?? [])]
    .filter((other) => other !== row)
    .map((other) => {
      const { top, height } = other.getBoundingClientRect()
      return top + height / 2
    })

function scrollNear(row: Element, heldPx: number): void {
  let frame = row.parentElement
  while (frame && frame.scrollHeight <= frame.clientHeight) frame = frame.parentElement
  if (!frame) return
  const { top, bottom } = frame.getBoundingClientRect()
  if (heldPx < top + EDGE_PX) frame.scrollBy(0, -SCROLL_PX)
  else if (heldPx > bottom - EDGE_PX) frame.scrollBy(0, SCROLL_PX)
}
