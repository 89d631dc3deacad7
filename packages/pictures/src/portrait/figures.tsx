import type { ZoneKind } from '@underbough/model'
import { ZonePath } from '../draw/patterns.tsx'
import { n } from '../draw/shape.ts'

/** Height of the person drawn for scale, metres. */
export const personM = 1.72

/** A person for scale, standing at a point. */
export function Person({ x, y, pxPerM }: { x: number; y: number; pxPerM: number }) {
  const h = personM * pxPerM
  const at = (share: number) => n(share * h)
  const body = `M${at(-0.1)} ${at(-0.82)}Q0 ${at(-0.86)} ${at(0.1)} ${at(-0.82)}L${at(0.13)} ${at(-0.47)}H${at(0.085)}L${at(0.075)} 0H${at(0.01)}L0 ${at(-0.4)}L${at(-0.01)} 0H${at(-0.075)}L${at(-0.085)} ${at(-0.47)}H${at(-0.13)}Z`
  return (
    <g transform={`translate(${n(x)} ${n(y)})`} fill="var(--ink-2)">
      <circle cy={at(-0.93)} r={at(0.07)} />
      <path d={body} />
    </g>
  )
}

// Usual heights of what stands in a zone, metres; only the drawing depends on them.
const usualHeightM: Readonly<Record<ZoneKind, number>> = {
  building: 6.5,
  road: 1.5,
  footpath: 0,
  play: 2.4,
  seating: 0.9,
  parking: 1.5,
  utility: 8,
}
export const targetHeightM = (kind: ZoneKind, heightM: number | null | undefined): number =>
  heightM ?? usualHeightM[kind]

interface Standing {
  kind: ZoneKind
  prefix: string
  /** Left edge and ground, px. */
  x: number
  y: number
  widthPx: number
  heightPx: number
  pxPerM: number
}

const ink = { fill: 'none', stroke: 'var(--zone-ink)', strokeWidth: 1.3 }

/** A target seen from the side. Flat ones lie on the ground, the others stand. */
export function Target(props: Standing) {
  const { kind, x, y, widthPx: w, heightPx: h, pxPerM: k, prefix } = props
  if (kind === 'building')
    return (
      <ZonePath
        kind={kind}
        prefix={prefix}
        d={`M${n(x)} ${n(y)}V${n(y - h * 0.66)}L${n(x + w / 2)} ${n(y - h)}L${n(x + w)} ${n(y - h * 0.66)}V${n(y)}Z`}
      />
    )
  if (kind === 'seating' && h > 2 * k) return <Bandstand {...props} />
  const ground = Math.max(3, 0.18 * k)
  const strip = <ZonePath kind={kind} prefix={prefix} d={`M${n(x)} ${n(y)}h${n(w)}v${n(ground)}h${n(-w)}Z`} />
  return (
    <>
      {strip}
      {(kind === 'road' || kind === 'parking') && w > 4 * k && <Car x={x + w / 2} y={y} k={k} />}
      {kind === 'seating' && (
        <path
          {...ink}
          d={`M${n(x + w / 2 - 0.8 * k)} ${n(y - h)}V${n(y)}M${n(x + w / 2 - 0.8 * k)} ${n(y - 0.45 * k)}h${n(1.5 * k)}V${n(y)}`}
        />
      )}
      {kind === 'play' && <path {...ink} d={swing(x + w / 2, y, Math.min(w, 3 * k), h)} />}
      {kind === 'utility' && (
        <path
          {...ink}
          d={`M${n(x + w / 2)} ${n(y)}V${n(y - h)}M${n(x + w / 2 - 0.7 * k)} ${n(y - h * 0.93)}h${n(1.4 * k)}`}
        />
      )}
    </>
  )
}

const swing = (x: number, y: number, w: number, h: number) =>
  `M${n(x - w / 2)} ${n(y)}L${n(x - w * 0.36)} ${n(y - h)}H${n(x + w * 0.36)}L${n(x + w / 2)} ${n(y)}M${n(x - w * 0.36)} ${n(y - h)}L${n(x - w * 0.22)} ${n(y)}M${n(x + w * 0.36)} ${n(y - h)}L${n(x + w * 0.22)} ${n(y)}M${n(x - w * 0.1)} ${n(y - h)}V${n(y - h * 0.2)}H${n(x + w * 0.1)}V${n(y - h)}`

/** An ordinary car, 4.3 m long and 1.5 m high. */
function Car({ x, y, k }: { x: number; y: number; k: number }) {
  const at = (east: number, up: number) => `${n(x + east * k)} ${n(y - up * k)}`
  return (
    <g fill="var(--leaf)" stroke="var(--zone-ink)" strokeWidth={1.1}>
      <path
        d={`M${at(-2.15, 0.3)}L${at(-2.1, 0.85)}L${at(-1.3, 0.95)}L${at(-0.7, 1.5)}H${n(x + 0.7 * k)}L${at(1.35, 0.95)}L${at(2.1, 0.75)}L${at(2.15, 0.3)}Z`}
      />
      <circle cx={n(x - 1.3 * k)} cy={n(y - 0.3 * k)} r={n(0.3 * k)} />
      <circle cx={n(x + 1.3 * k)} cy={n(y - 0.3 * k)} r={n(0.3 * k)} />
    </g>
  )
}

function Bandstand({ kind, prefix, x, y, widthPx: w, heightPx: h }: Standing) {
  const eaves = y - h * 0.66
  const roof = `M${n(x - w * 0.06)} ${n(eaves)}H${n(x + w * 1.06)}Q${n(x + w * 0.72)} ${n(y - h * 0.72)} ${n(x + w / 2)} ${n(y - h)}Q${n(x + w * 0.28)} ${n(y - h * 0.72)} ${n(x - w * 0.06)} ${n(eaves)}Z`
  const posts = [0.04, 0.34, 0.66, 0.96].map((share) => `M${n(x + w * share)} ${n(y - h * 0.1)}V${n(eaves)}`)
  return (
    <>
      <ZonePath kind={kind} prefix={prefix} d={`M${n(x)} ${n(y)}h${n(w)}v${n(-h * 0.1)}h${n(-w)}Z`} />
      <ZonePath kind={kind} prefix={prefix} d={roof} />
      <path {...ink} d={posts.join('')} />
    </>
  )
}
