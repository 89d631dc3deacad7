/** A range on a log axis: from least to most, a gap at the middle, and lines with their words where there are any. */
export interface BarRange {
  least: number
  middle?: number
  most: number
}
export interface BarLine {
  at: number
  words: string
}

const INSET = 6
const GAP = 4
const LEAST_PX = 5

/** Decades that hold all of these figures; at least two. */
export function decadesOver(values: readonly number[]): { from: number; to: number } {
  const above = values.filter((value) => value > 0)
  if (above.length === 0) return { from: 0.01, to: 1 }
  const from = Math.floor(Math.log10(Math.min(...above)) + 1e-9)
  const to = Math.max(from + 2, Math.ceil(Math.log10(Math.max(...above)) - 1e-9))
  return { from: 10 ** from, to: 10 ** to }
}

export function EstimateBar({
  range,
  axis,
  says,
  lines = [],
  widthPx,
}: {
  range: BarRange
  axis: { from: number; to: number }
  /** The range in words. */
  says: string
  lines?: readonly BarLine[]
  widthPx: number
}) {
  const height = 22
  const at = (value: number) => {
    const share = Math.log(Math.max(value, axis.from) / axis.from) / Math.log(axis.to / axis.from)
    return INSET + Math.min(1, Math.max(0, share)) * (widthPx - 2 * INSET)
  }
  const count = Math.round(Math.log10(axis.to / axis.from))
  const decades = Array.from({ length: count + 1 }, (_, i) => axis.from * 10 ** i)
  const from = at(range.least)
  const to = Math.max(at(range.most), from + LEAST_PX)
  const middle = range.middle === undefined ? null : at(range.middle)
  const y = height / 2
  return (
    <svg
      viewBox={`0 0 ${widthPx} ${height}`}
      width={widthPx}
      height={height}
      role="img"
      aria-label={says}
      className="estimate-bar"
    >
      {decades.map((value) => (
        <path key={value} d={`M${at(value)} 0V${height}`} stroke="var(--rule)" />
      ))}
      {lines.map(({ at: value, words }) => (
        <path
          key={words}
          d={`M${at(value)} 0V${height}`}
          stroke="var(--ink)"
          strokeWidth={1.6}
          strokeDasharray="3 3"
        />
      ))}
      <path
        d={
          middle === null || to - from < 3 * GAP
            ? `M${from} ${y}H${to}`
            : `M${from} ${y}H${middle - GAP / 2}M${middle + GAP / 2} ${y}H${to}`
        }
        stroke="var(--ink)"
        strokeWidth={6}
        fill="none"
      />
    </svg>
  )
}

/** The axis that stands once over bars: its ends and, between them, the lines. */
export function EstimateAxis({
  axis,
  lines = [],
  widthPx,
  say,
}: {
  axis: { from: number; to: number }
  lines?: readonly BarLine[]
  widthPx: number
  say(value: number): string
}) {
  return (
    <div className="estimate-axis s q" style={{ width: widthPx }}>
      <span>{say(axis.from)}</span>
      <span>
        {lines.length > 0 ? lines.map(({ words }) => words).join(', ') : 'each line ten times the last'}
      </span>
      <span>{say(axis.to)}</span>
    </div>
  )
}
