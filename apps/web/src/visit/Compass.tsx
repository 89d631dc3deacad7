import type { Tree } from '@underbough/model'
import { useHeld } from './held.ts'
import { bearingAt, crownPlan } from './place.ts'

const WIDE = 172
const TALL = 236
const MID_X = WIDE / 2
const MID_Y = TALL / 2
const RADIUS = 62
const CROWN_PX = 44
const STEM_PX = 24

/** Which side of the tree, seen from above with north up: the crown by its radii, or only the stem. */
export function Compass(props: {
  bearingDeg: number | null
  /** Null draws the stem alone; a crown nobody measured is drawn broken. */
  crown: NonNullable<Tree['crownRadiiM']> | 'unmeasured' | null
  onBearing(degrees: number): void
}) {
  const { bearingDeg, crown, onBearing } = props
  const held = useHeld((event) => {
    const box = event.currentTarget.getBoundingClientRect()
    const scale = Math.max(WIDE / box.width, TALL / box.height)
    onBearing(
      bearingAt(
        (event.clientX - box.left - box.width / 2) * scale,
        (event.clientY - box.top - box.height / 2) * scale,
      ),
    )
  })
  return (
    <div
      className="picker-drawing picker-compass"
      role="slider"
      tabIndex={0}
      aria-label="Side of the tree, degrees from north"
      aria-valuemin={0}
      aria-valuemax={359}
      aria-valuenow={bearingDeg ?? 0}
      aria-valuetext={bearingDeg === null ? 'not placed' : `facing ${Math.round(bearingDeg)} degrees`}
      {...held}
      onKeyDown={(event) => {
        const by = { ArrowRight: 5, ArrowUp: 5, ArrowLeft: -5, ArrowDown: -5 }[event.key]
        if (by === undefined) return
        event.preventDefault()
        onBearing(((bearingDeg ?? 0) + by + 360) % 360)
      }}
    >
      <svg viewBox={`0 0 ${WIDE} ${TALL}`} aria-hidden="true">
        <g transform={`translate(${MID_X} ${MID_Y})`}>
          <Ring />
          <Plan crown={crown} />
          {bearingDeg === null ? null : (
            <Hand bearingDeg={bearingDeg} fromPx={crown === null ? STEM_PX : 7} />
          )}
        </g>
      </svg>
      {bearingDeg === null ? <span className="picker-ask">Tap which side</span> : null}
    </div>
  )
}

const at = (deg: number, radius: number) =>
  [radius * Math.sin((deg * Math.PI) / 180), -radius * Math.cos((deg * Math.PI) / 180)] as const

function Ring() {
  return (
    <>
      <circle r={RADIUS} fill="none" stroke="var(--edge)" strokeWidth="1.3" />
      {Array.from({ length: 16 }, (_, i) => i * 22.5).map((deg) => {
        const [x1, y1] = at(deg, RADIUS)
        const [x2, y2] = at(deg, deg % 45 === 0 ? RADIUS - 9 : RADIUS - 5)
        return <path key={deg} d={`M${x1} ${y1}L${x2} ${y2}`} stroke="var(--edge)" strokeWidth="1.1" />
      })}
      {(['N', 'E', 'S', 'W'] as const).map((word, i) => {
        const [x, y] = at(i * 90, RADIUS + 13)
        return (
          <text key={word} x={x} y={y + 5} className="m picker-word">
            {word}
          </text>
        )
      })}
    </>
  )
}

function Plan({ crown }: { crown: Parameters<typeof Compass>[0]['crown'] }) {
  if (crown === null) return <circle r={STEM_PX} fill="var(--leaf)" stroke="var(--ink)" strokeWidth="1.5" />
  const measured = crown !== 'unmeasured'
  return (
    <>
      <path
        d={crownPlan(measured ? crown : { n: 1, e: 1, s: 1, w: 1 }, CROWN_PX)}
        fill="var(--green)"
        stroke="var(--ink-3)"
        strokeDasharray={measured ? undefined : '5 3'}
      />
      <circle r="5" fill="var(--leaf)" stroke="var(--ink)" strokeWidth="1.3" />
    </>
  )
}

function Hand({ bearingDeg, fromPx }: { bearingDeg: number; fromPx: number }) {
  const [x, y] = at(bearingDeg, RADIUS)
  return (
    <>
      <path d={`M${at(bearingDeg, fromPx).join(' ')}L${x} ${y}`} stroke="var(--accent)" strokeWidth="2.6" />
      <circle cx={x} cy={y} r="10" fill="var(--accent)" stroke="var(--paper)" strokeWidth="2" />
    </>
  )
}
