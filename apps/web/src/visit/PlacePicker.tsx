import type { Tree } from '@underbough/model'
import { type PointerEvent, useRef } from 'react'
import type { Place } from './kinds.ts'

interface PickerProps {
  place: Place
  tree: Pick<Tree, 'heightM' | 'crownBaseHeightM'>
  heightM: number | null
  bearingDeg: number | null
  onHeight(metres: number): void
  onBearing(degrees: number): void
}

/** A place on the tree by tap: how high on the stem, and on which side. Arrow keys move both. */
export function PlacePicker(props: PickerProps) {
  return (
    <div className="picker">
      {props.place === 'around' ? null : <Elevation {...props} />}
      <Compass bearingDeg={props.bearingDeg} onBearing={props.onBearing} />
    </div>
  )
}

const WIDE = 160
const TALL = 208
const FOOT = 190
const HEAD = 12

/** How high the drawing reaches, metres: the lower stem for what sits on it, the whole tree for what sits in the crown. */
export function topOf(place: Place, tree: PickerProps['tree']): number {
  const height = tree.heightM ?? 12
  if (place === 'crown') return Math.max(2, Math.ceil(height))
  return Math.max(2, Math.min(height, Math.max(4, Math.ceil((tree.crownBaseHeightM ?? height * 0.3) + 1))))
}
/** Height of a tap on the drawing, to a tenth of a metre on the stem and half a metre in the crown. */
export function heightAt(yPx: number, topM: number): number {
  const share = Math.min(1, Math.max(0, (FOOT - yPx) / (FOOT - HEAD)))
  const step = topM > 10 ? 0.5 : 0.1
  return Number((Math.round((share * topM) / step) * step).toFixed(1))
}
/** Bearing of a tap from the middle, whole degrees clockwise from north (up). */
export function bearingAt(dx: number, dy: number): number {
  return (Math.round((Math.atan2(dx, -dy) * 180) / Math.PI) + 360) % 360
}

/** Where a press lies in the units of the drawing. */
function pointIn(event: PointerEvent<HTMLDivElement>, wide: number, tall: number): [number, number] {
  const box = event.currentTarget.getBoundingClientRect()
  return [((event.clientX - box.left) / box.width) * wide, ((event.clientY - box.top) / box.height) * tall]
}

function Elevation({ place, tree, heightM, onHeight }: PickerProps) {
  const topM = topOf(place, tree)
  const held = useRef(false)
  const y = (m: number) => FOOT - (Math.min(m, topM) / topM) * (FOOT - HEAD)
  const step = [1, 2, 5, 10, 20].find((s) => topM / s <= 5) ?? 20
  const marks = Array.from({ length: Math.floor(topM / step) + 1 }, (_, i) => i * step)
  const press = (event: PointerEvent<HTMLDivElement>) =>
    onHeight(heightAt(pointIn(event, WIDE, TALL)[1], topM))
  const nudge = topM > 10 ? 0.5 : 0.1
  const base = y(tree.crownBaseHeightM ?? topM)
  return (
    <div
      className="picker-drawing"
      role="slider"
      tabIndex={0}
      aria-label="Height on the tree, metres"
      aria-valuemin={0}
      aria-valuemax={topM}
      aria-valuenow={heightM ?? 0}
      aria-valuetext={heightM === null ? 'not placed' : `${heightM} m up`}
      aria-orientation="vertical"
      onPointerDown={(event) => {
        held.current = true
        event.currentTarget.setPointerCapture(event.pointerId)
        press(event)
      }}
      onPointerMove={(event) => held.current && press(event)}
      onPointerUp={() => {
        held.current = false
      }}
      onKeyDown={(event) => {
        const by = event.key === 'ArrowUp' ? nudge : event.key === 'ArrowDown' ? -nudge : 0
        if (by === 0) return
        event.preventDefault()
        onHeight(Number(Math.min(topM, Math.max(0, (heightM ?? 0) + by)).toFixed(1)))
      }}
    >
      <svg viewBox={`0 0 ${WIDE} ${TALL}`} aria-hidden="true">
        {marks.map((m) => (
          <g key={m}>
            <path d={`M34 ${y(m)}h10`} stroke="var(--edge)" strokeWidth="1.2" />
            <text x="29" y={y(m) + 5} className="e picker-word">
              {m === 0 ? '0 m' : m}
            </text>
          </g>
        ))}
        {place === 'crown' ? (
          <ellipse
            cx="100"
            cy={(base + HEAD) / 2}
            rx="46"
            ry={Math.max(8, (base - HEAD) / 2)}
            fill="var(--green)"
            stroke="var(--ink-3)"
          />
        ) : null}
        <path
          d={
            place === 'crown'
              ? `M92 ${FOOT}L97 ${HEAD + 16}H103L108 ${FOOT}Z`
              : `M70 ${FOOT}C82 ${FOOT - 16} 84 ${FOOT - 46} 88 ${HEAD}H112C116 ${FOOT - 46} 118 ${FOOT - 16} 130 ${FOOT}Z`
          }
          fill="var(--leaf)"
          stroke="var(--ink)"
          strokeWidth="1.4"
        />
        <path d={`M52 ${FOOT}H152`} stroke="var(--ink)" strokeWidth="1.5" />
        {heightM === null ? null : (
          <g>
            <path d={`M44 ${y(heightM)}H84`} stroke="var(--accent)" strokeWidth="1.4" strokeDasharray="4 3" />
            <circle cx="100" cy={y(heightM)} r="13" fill="none" stroke="var(--accent)" strokeWidth="2.4" />
            <ellipse cx="100" cy={y(heightM)} rx="5" ry="8" fill="var(--ink)" />
          </g>
        )}
      </svg>
    </div>
  )
}

function Compass({ bearingDeg, onBearing }: { bearingDeg: number | null; onBearing(degrees: number): void }) {
  const held = useRef(false)
  const c = WIDE / 2
  const cy = TALL / 2 - 4
  const r = 58
  const at = (deg: number, radius: number) =>
    [c + radius * Math.sin((deg * Math.PI) / 180), cy - radius * Math.cos((deg * Math.PI) / 180)] as const
  const press = (event: PointerEvent<HTMLDivElement>) => {
    const [x, y] = pointIn(event, WIDE, TALL)
    onBearing(bearingAt(x - c, y - cy))
  }
  return (
    <div
      className="picker-drawing"
      role="slider"
      tabIndex={0}
      aria-label="Side of the tree, degrees from north"
      aria-valuemin={0}
      aria-valuemax={359}
      aria-valuenow={bearingDeg ?? 0}
      aria-valuetext={bearingDeg === null ? 'not placed' : `facing ${Math.round(bearingDeg)} degrees`}
      onPointerDown={(event) => {
        held.current = true
        event.currentTarget.setPointerCapture(event.pointerId)
        press(event)
      }}
      onPointerMove={(event) => held.current && press(event)}
      onPointerUp={() => {
        held.current = false
      }}
      onKeyDown={(event) => {
        const by = { ArrowRight: 5, ArrowUp: 5, ArrowLeft: -5, ArrowDown: -5 }[event.key]
        if (by === undefined) return
        event.preventDefault()
        onBearing(((bearingDeg ?? 0) + by + 360) % 360)
      }}
    >
      <svg viewBox={`0 0 ${WIDE} ${TALL}`} aria-hidden="true">
        <circle cx={c} cy={cy} r={r} fill="none" stroke="var(--edge)" strokeWidth="1.3" />
        {Array.from({ length: 16 }, (_, i) => i * 22.5).map((deg) => {
          const [x1, y1] = at(deg, r)
          const [x2, y2] = at(deg, deg % 45 === 0 ? r - 9 : r - 5)
          return <path key={deg} d={`M${x1} ${y1}L${x2} ${y2}`} stroke="var(--edge)" strokeWidth="1.1" />
        })}
        <circle cx={c} cy={cy} r="24" fill="var(--leaf)" stroke="var(--ink)" strokeWidth="1.5" />
        {(['N', 'E', 'S', 'W'] as const).map((word, i) => {
          const [x, y] = at(i * 90, r + 13)
          return (
            <text key={word} x={x} y={y + 5} className="m picker-word">
              {word}
            </text>
          )
        })}
        {bearingDeg === null ? null : (
          <g>
            <path
              d={`M${at(bearingDeg, 24).join(' ')}L${at(bearingDeg, r).join(' ')}`}
              stroke="var(--accent)"
              strokeWidth="2.6"
            />
            <circle
              cx={at(bearingDeg, r)[0]}
              cy={at(bearingDeg, r)[1]}
              r="9"
              fill="var(--accent)"
              stroke="var(--paper)"
              strokeWidth="2"
            />
          </g>
        )}
      </svg>
    </div>
  )
}
