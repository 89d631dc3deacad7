import { addDays, mondayOf } from '@underbough/model'
import type { SVGProps } from 'react'
import { Line, Picture, type PictureProps, Words } from '../draw/picture.tsx'
import { n } from '../draw/shape.ts'
import { Bars, type PlacedBar } from './bars.tsx'
import { type DueBar, type DueFacts, describeDue, monthBars, weekBars } from './data.ts'
import { Peg, type PegProps } from './peg.tsx'
import { countAxis, type DueScale, dueScale } from './scale.ts'
import { laneCount, MonthNames, Rounds } from './under.tsx'

export interface DueStripProps extends DueFacts, PictureProps {
  heightPx?: number
  /** `months`: one bar a month, for narrow screens. */
  by?: 'weeks' | 'months'
  /** Pointer, keyboard and role of the two pegs; without them the strip is a picture. */
  pegs?: { from: PegProps; to: PegProps }
  /** For the whole sheet behind the pegs: drawing a new brush. */
  sheet?: SVGProps<SVGRectElement>
}

/**
 * Looks due by week, stacked by risk, extreme on the base line; weeks past stand left of this week and are cut through. The
 * dotted step is what the crews can visit. Two pegs are the brush. Rounds run under the weeks in their own line.
 */
export function DueStrip(props: DueStripProps) {
  const {
    weeks,
    today,
    brush,
    rounds = [],
    by = 'weeks',
    widthPx = 1392,
    heightPx = 150,
    textScale = 1,
    pegs,
    sheet,
  } = props
  if (weeks.length === 0)
    return (
      <Picture widthPx={widthPx} heightPx={heightPx} says="Looks due by week: no weeks to show.">
        <Line from={[46, heightPx - 24]} to={[widthPx - 10, heightPx - 24]} width={1.2} />
      </Picture>
    )
  const scale = dueScale(props, widthPx, textScale)
  const lanes = by === 'weeks' ? laneCount(rounds) : 0
  const basePx = heightPx - 8 - 16 * textScale - (lanes > 0 ? 8 + lanes * 6 : 0)
  const topPx = 20
  const bars = placed(by === 'months' ? monthBars(props) : weekBars(props), scale, brush)
  const axis = countAxis(bars, basePx - topPx)
  const pxPerTree = (basePx - topPx) / axis.most
  const now = scale.xOf(mondayOf(today))
  return (
    <Picture
      widthPx={widthPx}
      heightPx={heightPx}
      says={describeDue(props)}
      pressable={!!pegs}
      textScale={textScale}
    >
      <CountLines
        axis={axis}
        basePx={basePx}
        pxPerTree={pxPerTree}
        leftPx={scale.leftPx}
        rightPx={widthPx - 10}
      />
      {brush && (
        <rect
          data-part="brush"
          x={n(scale.xOf(brush.from))}
          y={topPx - 8}
          width={n(Math.max(0, scale.xOf(brush.to) - scale.xOf(brush.from)))}
          height={n(basePx - topPx + 8)}
          fill="var(--accent-tint)"
          opacity={0.75}
        />
      )}
      {sheet && (
        <rect
          x={n(scale.leftPx)}
          y={0}
          width={n(widthPx - scale.leftPx)}
          height={n(basePx)}
          fill="transparent"
          {...sheet}
        />
      )}
      <Bars bars={bars} basePx={basePx} pxPerTree={pxPerTree} />
      <Line from={[scale.leftPx, basePx]} to={[widthPx - 10, basePx]} width={1.2} />
      <Capacity bars={bars} basePx={basePx} pxPerTree={pxPerTree} widthPx={widthPx} scale={scale} />
      <Line from={[now, topPx - 8]} to={[now, basePx + 6]} width={1.6} />
      <MonthNames
        bars={bars}
        scale={scale}
        y={basePx + 5 + 12 * textScale}
        basePx={basePx}
        now={now}
        widthPx={widthPx}
        textScale={textScale}
        by={by}
      />
      {lanes > 0 && <Rounds rounds={rounds} scale={scale} y={basePx + 12 + 14 * textScale} />}
      {brush && (
        <Peg x={scale.xOf(brush.from)} basePx={basePx} name="First week" week={brush.from} own={pegs?.from} />
      )}
      {brush && (
        <Peg
          x={scale.xOf(brush.to)}
          basePx={basePx}
          name="Last week"
          week={addDays(brush.to, -7)}
          own={pegs?.to}
        />
      )}
    </Picture>
  )
}

function placed(bars: readonly DueBar[], scale: DueScale, brush: DueFacts['brush']): PlacedBar[] {
  return bars.map((bar) => {
    const x = scale.xOf(bar.from)
    const room = scale.xOf(bar.to) - x
    const widthPx = Math.max(2, room - Math.max(1.5, Math.min(8, room * 0.22)))
    const inside = !brush || (bar.from < brush.to && bar.to > brush.from)
    return { ...bar, x: x + (room - widthPx) / 2, widthPx, inside }
  })
}

function CountLines({
  axis,
  basePx,
  pxPerTree,
  leftPx,
  rightPx,
}: {
  axis: { most: number; step: number }
  basePx: number
  pxPerTree: number
  leftPx: number
  rightPx: number
}) {
  return Array.from({ length: Math.floor(axis.most / axis.step) }, (_, i) => (i + 1) * axis.step).map(
    (count) => (
      <g key={count} data-count={count} data-y={n(basePx - count * pxPerTree)}>
        <Line
          from={[leftPx, basePx - count * pxPerTree]}
          to={[rightPx, basePx - count * pxPerTree]}
          tone="rule"
          width={0.7}
        />
        <Words x={leftPx - 8} y={basePx - count * pxPerTree + 4} anchor="end">
          {count}
        </Words>
      </g>
    ),
  )
}

function Capacity({
  bars,
  basePx,
  pxPerTree,
  widthPx,
  scale,
}: {
  bars: readonly PlacedBar[]
  basePx: number
  pxPerTree: number
  widthPx: number
  scale: DueScale
}) {
  const known = bars.filter((bar) => bar.capacity !== null && !bar.past)
  if (known.length === 0) return null
  const y = (bar: PlacedBar) => n(basePx - bar.capacity! * pxPerTree)
  const d = known
    .map((bar, i) => `${i ? `V${y(bar)}` : `M${n(scale.xOf(bar.from))} ${y(bar)}`}H${n(scale.xOf(bar.to))}`)
    .join('')
  return (
    <>
      <path
        data-part="capacity"
        d={d}
        fill="none"
        stroke="var(--ink)"
        strokeWidth={1.2}
        strokeDasharray="1.5 3"
      />
      {widthPx > 500 && (
        <Words
          x={scale.xOf(known.at(-1)!.to) - 2}
          y={basePx - known.at(-1)!.capacity! * pxPerTree - 5}
          anchor="end"
          size={11}
          italic
          halo
        >
          what the crews can visit in a week
        </Words>
      )}
    </>
  )
}
