import { useLayoutEffect, useRef, useState } from 'react'

/** Width of an element in whole px, followed as it changes; 0 until it is on the page. */
export function useWidth<E extends HTMLElement = HTMLDivElement>() {
  const box = useRef<E>(null)
  const [width, setWidth] = useState(0)
  useLayoutEffect(() => {
    const element = box.current
    if (!element) return
    const read = () => setWidth(Math.floor(element.clientWidth))
    read()
    const watch = new ResizeObserver(read)
    watch.observe(element)
    return () => watch.disconnect()
  }, [])
  return [box, width] as const
}

/** Words in drawings are 16 px on a phone, 12 at a desk. */
export const textScaleOf = (pageWidthPx: number) => (pageWidthPx < 600 ? 16 / 12 : 1)
export const onPhone = () => window.innerWidth < 600
