import type { CivilDate } from '@underbough/model'
import { Line, Words } from '../draw/picture.tsx'
import { n } from '../draw/shape.ts'
import { crewLine } from '../marks/crews.ts'
import { cssPaint } from '../palette/paint.ts'
import type { PlacedBar } from './bars.tsx'
import { type DueFacts, monthName } from './data.ts'
import type { DueScale } from './scale.ts'

/** Months under the base line, “overdue” and “this week”; names that find no room are left out, their ticks stay. */
export function MonthNames({
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
export const laneCount = (rounds: NonNullable<DueFacts['rounds']>): number => letters(rounds).length

export function Rounds({
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
