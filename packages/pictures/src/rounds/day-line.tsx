import type { RiskWord } from '@underbough/model'
import { MarkAt } from '../draw/mark-at.tsx'
import { filled, Patterns } from '../draw/patterns.tsx'
import { Line, Picture, type PictureProps, usePrefix, Words } from '../draw/picture.tsx'
import { clock, counted, way } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { Shapes } from '../draw/shape-view.tsx'
import { crewLineShapes } from '../marks/crews.ts'
import { cssPaint } from '../palette/paint.ts'

/** A stop on a crew's day; minutes after midnight. */
export interface DayStop {
  id: string
  startMinute: number
  leaveMinute: number
  risk: RiskWord | null
  overdue: boolean
  visited?: boolean
}

export interface DayFacts {
  letter: string
  stops: readonly DayStop[]
  startMinute: number
  endMinute: number
  travelM: number
  /** Hours in which a place of this day may not be visited. */
  closed?: readonly { fromMinute: number; toMinute: number }[]
  /** Why there is no work this day; with it nothing else is drawn. */
  absent?: { why: string; more: string } | null
}

/** The hours a column of day lines shares, minutes after midnight. */
export interface Hours {
  fromMinute: number
  toMinute: number
}

export const usualHours: Hours = { fromMinute: 450, toMinute: 960 }
const PAD = 6

export const minutePlace = (minute: number, hours: Hours, widthPx: number): number =>
  PAD +
  ((Math.min(hours.toMinute, Math.max(hours.fromMinute, minute)) - hours.fromMinute) /
    Math.max(1, hours.toMinute - hours.fromMinute)) *
    (widthPx - 2 * PAD)

/** A crew's day as a line in its own dash, a mark at the middle of each visit, the hours below. */
export function DayLine({
  day,
  hours = usualHours,
  widthPx = 154,
  textScale = 1,
}: PictureProps & { day: DayFacts; hours?: Hours }) {
  const prefix = usePrefix()
  const s = textScale
  const height = 72 + 22 * s
  const says = describeDay(day)
  if (day.absent)
    return (
      <Picture widthPx={widthPx} heightPx={height} says={says} textScale={s}>
        <Words x={8} y={40} italic>
          {day.absent.why}
        </Words>
        <Words x={8} y={40 + 15 * s} size={11}>
          {day.absent.more}
        </Words>
      </Picture>
    )
  const at = (minute: number) => minutePlace(minute, hours, widthPx)
  const [top, y, foot] = [8 + 14 * s, 32 + 14 * s, 56 + 14 * s]
  const step = hours.toMinute - hours.fromMinute > 720 ? 180 : 120
  const first = Math.ceil(hours.fromMinute / 60) * 60
  const ticks = Array.from(
    { length: Math.max(0, Math.floor((hours.toMinute - first) / step) + 1) },
    (_, i) => first + i * step,
  )
  return (
    <Picture widthPx={widthPx} heightPx={height} says={says} textScale={s}>
      <Patterns prefix={prefix} hatches={['light']} />
      {ticks.map((minute) => (
        <g key={minute} data-minute={minute}>
          <Line from={[at(minute), top]} to={[at(minute), foot]} tone="rule" width={0.8} />
          <Words
            x={Math.min(at(minute), widthPx - 2)}
            y={foot + 12 * s}
            anchor={at(minute) > widthPx - 12 ? 'end' : 'middle'}
            size={11}
          >
            {minute / 60}
          </Words>
        </g>
      ))}
      {day.closed?.map(({ fromMinute, toMinute }) => (
        <rect
          key={fromMinute}
          x={n(at(fromMinute))}
          y={n(top + 2)}
          width={n(Math.max(0, at(toMinute) - at(fromMinute)))}
          height={n(foot - top - 4)}
          fill={filled(prefix, 'light')}
        />
      ))}
      {day.stops.length > 0 && (
        <Shapes
          of={crewLineShapes(
            `M${n(at(day.startMinute))} ${n(y)}H${n(at(day.endMinute))}`,
            day.letter,
            cssPaint,
            2,
          )}
        />
      )}
      {day.stops.map((stop) => (
        <MarkAt
          key={stop.id}
          x={at((stop.startMinute + stop.leaveMinute) / 2)}
          y={y}
          risk={stop.risk}
          overdue={stop.overdue}
          visited={stop.visited ?? true}
          size={0.6}
        />
      ))}
      <Words x={8} y={2 + 11 * s} tone="ink" size={11} firm>
        {counted(day.stops.length, 'stop')}
      </Words>
      <Words x={widthPx - 8} y={2 + 11 * s} anchor="end" size={11}>
        {way(day.travelM)}
      </Words>
    </Picture>
  )
}

/** A crew's day in words. */
export function describeDay(day: DayFacts): string {
  if (day.absent) return `Crew ${day.letter}: ${day.absent.why}, ${day.absent.more}.`
  if (day.stops.length === 0) return `Crew ${day.letter}: no stops.`
  const worst = (['extreme', 'high'] as const)
    .map((risk) => ({ risk, count: day.stops.filter((stop) => stop.risk === risk).length }))
    .filter(({ count }) => count > 0)
  const late = day.stops.filter((stop) => stop.overdue).length
  const parts = [
    `Crew ${day.letter}: ${counted(day.stops.length, 'stop')}, ${way(day.travelM)}, ${clock(day.startMinute)} to ${clock(day.endMinute)}`,
  ]
  if (worst.length > 0) parts.push(worst.map(({ risk, count }) => `${count} ${risk}`).join(', '))
  if (late > 0) parts.push(`${late} overdue`)
  return `${parts.join('; ')}.`
}
