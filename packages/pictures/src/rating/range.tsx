import { Line, Picture, type PictureProps, Words } from '../draw/picture.tsx'
import { n } from '../draw/shape.ts'

export interface RangeFacts {
  least: number
  mean: number
  most: number
  /** What is counted, in words: “people within its outline”. */
  unit: string
}
export interface LogAxis {
  /** Ends of the axis, both above zero. */
  from: number
  to: number
}

export const peopleAxis: LogAxis = { from: 0.01, to: 10 }
const INSET = 6
const GAP = 3
const LEAST_SIDE = 4

/** Place of a figure on a log axis, px; what lies beyond stands at the end. */
export function logPlace(value: number, { from, to }: LogAxis, widthPx: number): number {
  const share = Math.log(Math.max(value, from) / from) / Math.log(to / from)
  return INSET + Math.min(1, Math.max(0, share)) * (widthPx - 2 * INSET)
}

const decades = ({ from, to }: LogAxis): number[] => {
  const first = Math.ceil(Math.log10(from) - 1e-9)
  const last = Math.floor(Math.log10(to) + 1e-9)
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) =>
    Number((10 ** (first + i)).toPrecision(1)),
  )
}

/** From the least to the most, with a gap at the mean, on a log axis. No level is drawn on it. An end that lies beyond the axis is open. */
export function RangeBar({
  range,
  axis = peopleAxis,
  widthPx = 210,
  heightPx = 30,
}: PictureProps & { range: RangeFacts; axis?: LogAxis; heightPx?: number }) {
  const at = (value: number) => logPlace(value, axis, widthPx)
  const mean = at(range.mean)
  // However narrow a range, both its sides stay to be seen.
  const from = Math.min(at(range.least), mean - LEAST_SIDE)
  const to = Math.max(at(range.most), mean + LEAST_SIDE)
  const y = heightPx / 2
  return (
    <Picture widthPx={widthPx} heightPx={heightPx} says={describeRange(range)}>
      {decades(axis).map((value) => (
        <Line key={value} from={[at(value), 0]} to={[at(value), heightPx]} tone="rule" />
      ))}
      <path
        data-part="range"
        d={`M${n(from)} ${n(y)}H${n(mean - GAP / 2)}M${n(mean + GAP / 2)} ${n(y)}H${n(to)}`}
        stroke="var(--ink)"
        strokeWidth={5}
        fill="none"
      />
      {range.least < axis.from && (
        <path d={`M${n(from + 4)} ${n(y - 6)}l-5 6l5 6`} fill="none" stroke="var(--ink)" strokeWidth={1.4} />
      )}
      {range.most > axis.to && (
        <path d={`M${n(to - 4)} ${n(y - 6)}l5 6l-5 6`} fill="none" stroke="var(--ink)" strokeWidth={1.4} />
      )}
    </Picture>
  )
}

/** The axis that stands once over a column of range bars. */
export function RangeAxis({
  axis = peopleAxis,
  widthPx = 210,
  textScale = 1,
  title,
}: PictureProps & { axis?: LogAxis; title: string }) {
  return (
    <Picture
      widthPx={widthPx}
      heightPx={16 + 16 * textScale}
      says={`${title}, from ${axis.from} to ${axis.to}, each line ten times the last`}
      textScale={textScale}
    >
      <Words x={0} y={11 * textScale} size={11}>
        {title}
      </Words>
      {decades(axis).map((value, i, all) => (
        <Words
          key={value}
          x={logPlace(value, axis, widthPx) + (i === 0 ? -INSET : i === all.length - 1 ? INSET : 0)}
          y={12 + 14 * textScale}
          anchor={i === 0 ? 'start' : i === all.length - 1 ? 'end' : 'middle'}
          size={11}
        >
          {value}
        </Words>
      ))}
    </Picture>
  )
}

/** A count as it is said: one decimal, two significant figures below a tenth. */
export const countSays = (value: number): string =>
  value === 0
    ? '0'
    : value < 0.095
      ? String(Number(value.toPrecision(value < 0.001 ? 1 : 2)))
      : value.toFixed(value < 99.95 ? 1 : 0)

/** The range in words. */
export const describeRange = ({ least, mean, most, unit }: RangeFacts): string =>
  `${countSays(mean)} ${unit} on average; ${countSays(least)} to ${countSays(most)}.`

/** Plain words for under a column of range bars. */
export const rangeCaption =
  'Each bar runs from the least to the most over what may turn the fall; the gap is the mean. It says who would be under a fall, not whether one comes.'
