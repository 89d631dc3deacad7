import type { Tree } from '@underbough/model'
import { type PortraitFinding, TreePortrait } from '@underbough/pictures'
import { useMemo } from 'react'
import { portraitTree } from '../ground/targets.ts'
import { useWidth } from '../tree/useWidth.ts'
import { Compass } from './Compass.tsx'
import { useHeld } from './held.ts'
import type { Place } from './kinds.ts'
import { heightAt, pinX, type Sheet, sheetOf, stepOf } from './place.ts'

interface PickerProps {
  place: Place
  tree: Tree
  heightM: number | null
  bearingDeg: number | null
  /** What else was found on this tree today. */
  others: readonly PortraitFinding[]
  onHeight(metres: number): void
  onBearing(degrees: number): void
}

/** A place on the tree by tap: how high on its own portrait, and on which side. Arrow keys move both. */
export function PlacePicker(props: PickerProps) {
  const { place, tree, bearingDeg, onBearing } = props
  return (
    <div className="picker">
      {place === 'around' ? null : <Elevation {...props} />}
      <Compass
        bearingDeg={bearingDeg}
        crown={place === 'around' || place === 'crown' ? (tree.crownRadiiM ?? 'unmeasured') : null}
        onBearing={onBearing}
      />
    </div>
  )
}

const TALL_PX = 236
const ROOM_PX = 44

/** The portrait, of the crown whole, of the stem its lower part; the height is where it is pressed. */
function Elevation({ place, tree, heightM, bearingDeg, others, onHeight }: PickerProps) {
  const [box, width] = useWidth()
  const record = useMemo(() => portraitTree(tree), [tree])
  const sheet = useMemo(() => sheetOf(record, place, width, TALL_PX, ROOM_PX), [record, place, width])
  const held = useHeld((event) => {
    const { top, height } = event.currentTarget.getBoundingClientRect()
    onHeight(heightAt(((event.clientY - top) / height) * TALL_PX, sheet))
  })
  const { topM } = sheet
  return (
    <div
      ref={box}
      className="picker-drawing picker-tree"
      style={{ height: TALL_PX }}
      role="slider"
      tabIndex={0}
      aria-label="Height on the tree, metres"
      aria-valuemin={0}
      aria-valuemax={topM}
      aria-valuenow={heightM ?? 0}
      aria-valuetext={heightM === null ? 'not placed' : `${heightM} m up`}
      aria-orientation="vertical"
      {...held}
      onKeyDown={(event) => {
        const step = stepOf(topM)
        const by = event.key === 'ArrowUp' ? step : event.key === 'ArrowDown' ? -step : 0
        if (by === 0) return
        event.preventDefault()
        onHeight(Number(Math.min(topM, Math.max(0, (heightM ?? 0) + by)).toFixed(1)))
      }}
    >
      {width > 0 ? (
        <>
          <div className="picker-portrait" aria-hidden="true">
            <TreePortrait
              tree={record}
              findings={others}
              frame={sheet.frame}
              widthPx={width}
              textScale={4 / 3}
              seed={Number.parseInt(tree.id.slice(0, 6), 16)}
              small
            />
          </div>
          <Rule sheet={sheet} widePx={width} />
          {heightM === null ? (
            <span className="picker-ask">Tap how high</span>
          ) : (
            <Pin
              sheet={sheet}
              heightM={heightM}
              x={pinX(record, place, sheet, Math.min(heightM, topM), bearingDeg)}
              widePx={width}
            />
          )}
        </>
      ) : null}
    </div>
  )
}

/** Metres up, over the drawing: a crown that hangs low would hide the portrait's own. */
function Rule({ sheet, widePx }: { sheet: Sheet; widePx: number }) {
  const { topM, groundPx, frame, tallPx } = sheet
  const step = [1, 2, 5, 10, 20].find((s) => topM / s <= 5) ?? 20
  const marks = Array.from({ length: Math.floor(topM / step) + 1 }, (_, i) => i * step)
  return (
    <svg className="picker-pin" viewBox={`0 0 ${widePx} ${tallPx}`} aria-hidden="true">
      <rect width={ROOM_PX} height={tallPx} fill="var(--paper)" />
      {marks.map((m) => (
        <g key={m} transform={`translate(0 ${groundPx - m * frame.pxPerM})`}>
          <path d={`M${ROOM_PX - 9} 0h9`} stroke="var(--edge)" strokeWidth="1.2" />
          <text x={ROOM_PX - 13} y="5" className="e picker-word">
            {m === 0 ? '0 m' : m}
          </text>
        </g>
      ))}
    </svg>
  )
}

function Pin({ sheet, heightM, x, widePx }: { sheet: Sheet; heightM: number; x: number; widePx: number }) {
  const y = sheet.groundPx - Math.min(heightM, sheet.topM) * sheet.frame.pxPerM
  return (
    <svg className="picker-pin" viewBox={`0 0 ${widePx} ${sheet.tallPx}`} aria-hidden="true">
      <path d={`M${ROOM_PX} ${y}H${x - 13}`} stroke="var(--accent)" strokeWidth="1.6" strokeDasharray="4 3" />
      <circle cx={x} cy={y} r="13" fill="none" stroke="var(--paper)" strokeWidth="5" />
      <circle cx={x} cy={y} r="13" fill="none" stroke="var(--accent)" strokeWidth="2.6" />
      <ellipse cx={x} cy={y} rx="4" ry="6" fill="var(--ink)" />
    </svg>
  )
}
