import { addDays, type CivilDate, mondayOf } from '@underbough/model'
import type { SVGProps } from 'react'
import { Line, Picture, type PictureProps, Words } from '../draw/picture.tsx'
import { n } from '../draw/shape.ts'
import { crewLine } from '../marks/crews.ts'
import { cssPaint } from '../palette/paint.ts'
import { Bars, type PlacedBar } from './bars.tsx'
import { type DueBar, type DueFacts, describeDue, monthBars, monthName, weekBars } from './data.ts'
import { countAxis, type DueScale, dueScale } from './scale.ts'

type PegProps = SVGProps<SVGGElement>

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

function MonthNames({
  bars,
  scale,
  y,
  basePx,
  now,
  widthPx,
  textScale,
  by,
}: {
  bars: readonly PlacedBar[]
  scale: DueScale
  y: number
  basePx: number
  now: number
  widthPx: number
  textScale: number
  by: 'weeks' | 'months'
}) {
  const first = bars[0]!.from
  const end = bars.at(-1)!.to
  const starts = Array.from({ length: 40 }, (_, i): CivilDate => {
    const month = Number(first.slice(5, 7)) + i
    return `${Number(first.slice(0, 4)) + Math.floor(month / 12)}-${String((month % 12) + 1).padStart(2, '0')}-01`
  }).filter((date) => date < end && scale.xOf(date) > now)
  const half = (by === 'months' ? 26 : 34) * textScale
  let free = now + half
  return (
    <>
      {now - scale.leftPx > (52 + 34) * textScale && (
        <Words x={scale.leftPx + 2} y={y} size={11}>
          overdue
        </Words>
      )}
      <Words x={Math.max(scale.leftPx + 20 * textScale, now)} y={y} anchor="middle" tone="ink" size={11} firm>
        this week
      </Words>
      {starts.map((date) => {
        const x = scale.xOf(date)
        const name = date.slice(5, 7) === '01' ? `${monthName(date)} ${date.slice(0, 4)}` : monthName(date)
        const wide = (name.length * 6.4 + 4) * textScale
        const shown = x + 3 > free && x + wide < widthPx
        if (shown) free = x + 3 + wide
        return (
          <g key={date}>
            <Line from={[x, basePx]} to={[x, basePx + 5]} tone="ink-3" />
            {shown && (
              <Words x={x + 3} y={y} size={11}>
                {name}
              </Words>
            )}
          </g>
        )
      })}
    </>
  )
}

const letters = (rounds: NonNullable<DueFacts['rounds']>): string[] =>
  [...new Set(rounds.map((round) => round.letter))].sort()
const laneCount = (rounds: NonNullable<DueFacts['rounds']>): number => letters(rounds).length

function Rounds({
  rounds,
  scale,
  y,
}: {
  rounds: NonNullable<DueFacts['rounds']>
  scale: DueScale
  y: number
}) {
  const lanes = letters(rounds)
  return (
    <>
      <Words x={scale.leftPx - 8} y={y + 8} anchor="end" size={11}>
        rounds
      </Words>
      {rounds.map(({ letter, from, to }) => {
        const { ink, dashPx } = crewLine(letter)
        const lane = y + 2 + lanes.indexOf(letter) * 6
        return (
          <path
            key={`${letter}${from}`}
            data-crew={letter}
            d={`M${n(scale.xOf(from) + 2)} ${n(lane)}H${n(Math.max(scale.xOf(from) + 6, scale.xOf(to) - 2))}`}
            stroke={cssPaint(ink)}
            strokeWidth={3.4}
            strokeDasharray={dashPx.map((d) => n(d * 0.8)).join(' ') || undefined}
          />
        )
      })}
    </>
  )
}

/** A peg; with its own props it is a slider that answers to pointer and keys. */
function Peg({
  x,
  basePx,
  name,
  week,
  own,
}: {
  x: number
  basePx: number
  name: string
  week: CivilDate
  own?: PegProps | undefined
}) {
  const slider = own && {
    role: 'slider',
    tabIndex: 0,
    'aria-label': name,
    'aria-valuetext': `week of ${week}`,
    ...own,
    style: { cursor: 'ew-resize', touchAction: 'none', ...own.style },
  }
  return (
    <g {...slider} data-part="peg">
      {own && <rect x={n(x - 14)} y={0} width={28} height={n(basePx)} fill="transparent" />}
      <Line from={[x, 10]} to={[x, basePx + 1]} tone="accent" width={2} />
      <path d={`M${n(x - 5)} 8h10v9l-5 5l-5 -5Z`} fill="var(--accent)" />
    </g>
  )
}
