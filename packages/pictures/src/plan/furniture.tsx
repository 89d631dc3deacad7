import { Words } from '../draw/picture.tsx'
import { metres, roundStep } from '../draw/say.ts'
import { n } from '../draw/shape.ts'

/** A scale bar of a round length, with its middle marked. */
export function ScaleBar({ x, y, pxPerM, roomPx }: { x: number; y: number; pxPerM: number; roomPx: number }) {
  const m = roundStep(Math.max(1, (roomPx * 0.4) / pxPerM))
  const ticks = [0, 0.5, 1].map((share) => `M${n(x + m * share * pxPerM)} ${n(y - 4)}v4`)
  return (
    <g data-scale-m={m} data-scale-px={n(m * pxPerM)}>
      <path
        d={`M${n(x)} ${n(y)}h${n(m * pxPerM)}${ticks.join('')}`}
        fill="none"
        stroke="var(--ink)"
        strokeWidth={1.3}
      />
      <Words x={x + m * pxPerM + 6} y={y + 2} size={11}>
        {metres(m)}
      </Words>
    </g>
  )
}

export function North({ x, y }: { x: number; y: number }) {
  return (
    <>
      <path
        d={`M${n(x)} ${n(y)}v-18M${n(x - 4)} ${n(y - 12)}l4 -7l4 7`}
        fill="none"
        stroke="var(--ink)"
        strokeWidth={1.2}
      />
      <Words x={x} y={y + 14} anchor="middle" tone="ink" firm>
        N
      </Words>
    </>
  )
}
