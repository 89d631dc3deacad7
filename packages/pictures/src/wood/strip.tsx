import { Words } from '../draw/picture.tsx'
import { figure, roundStep, wordsWidth } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { woodFill } from './patterns.tsx'
import { type Span, shortName } from './spans.ts'

/** Spans side by side as one strip. */
export function SpanStrip({
  spans,
  x,
  y,
  heightPx,
  prefix,
  dashed = false,
}: {
  spans: readonly Span[]
  x: (cm: number) => number
  y: number
  heightPx: number
  prefix: string
  dashed?: boolean
}) {
  return spans.map((one) => (
    <rect
      key={one.fromCm}
      data-fill={one.fill}
      x={n(x(one.fromCm))}
      y={n(y)}
      width={n(Math.max(0.5, x(one.toCm) - x(one.fromCm)))}
      height={n(heightPx)}
      fill={woodFill(prefix, one.fill)}
      stroke={dashed ? 'var(--accent)' : 'var(--ink)'}
      strokeWidth={1}
      strokeDasharray={dashed ? '4 3' : undefined}
    />
  ))
}

/** Name and length of each span; spans too narrow for their words stand a line lower, joined by a short line. */
export function SpanWords({
  spans,
  x,
  y,
  textScale,
  widthPx,
  asked = false,
}: {
  spans: readonly Span[]
  x: (cm: number) => number
  y: number
  textScale: number
  widthPx: number
  asked?: boolean
}) {
  const size = 12
  const rows: number[] = []
  return spans.map((one) => {
    const text = `${shortName[one.fill]} ${figure(one.toCm - one.fromCm)}${asked && one.fill !== 'bark' && one.fill !== 'unread' ? '?' : ''}`
    const width = wordsWidth(text, size * textScale) + 4
    const middle = (x(one.fromCm) + x(one.toCm)) / 2
    const at = Math.min(Math.max(middle, width / 2), widthPx - width / 2)
    let row = rows.findIndex((end) => end <= at - width / 2)
    if (row < 0) row = rows.length
    rows[row] = at + width / 2
    const line = y + row * 15 * textScale
    return (
      <g key={one.fromCm}>
        {row > 0 && (
          <path
            d={`M${n(middle)} ${n(y - 11 * textScale)}V${n(line - 11 * textScale)}`}
            stroke="var(--ink-3)"
            strokeWidth={0.7}
          />
        )}
        <Words x={at} y={line} anchor="middle" size={size} tone={asked ? 'accent' : 'ink-2'} halo>
          {text}
        </Words>
      </g>
    )
  })
}

/** Rows that the words will take, for the height of the drawing. */
export function rowsOf(
  spans: readonly Span[],
  x: (cm: number) => number,
  textScale: number,
  widthPx: number,
): number {
  const rows: number[] = []
  for (const one of spans) {
    const width = wordsWidth(`${shortName[one.fill]} ${figure(one.toCm - one.fromCm)}?`, 12 * textScale) + 4
    const at = Math.min(Math.max((x(one.fromCm) + x(one.toCm)) / 2, width / 2), widthPx - width / 2)
    const row = rows.findIndex((end) => end <= at - width / 2)
    rows[row < 0 ? rows.length : row] = at + width / 2
  }
  return rows.length
}

/** Depth in cm from the outside. */
export function DepthAxis({
  x,
  y,
  toCm,
  textScale,
}: {
  x: (cm: number) => number
  y: number
  toCm: number
  textScale: number
}) {
  const step = roundStep((toCm * 34 * textScale) / Math.max(1, x(toCm) - x(0)))
  const ticks = Array.from({ length: Math.floor(toCm / step + 1e-6) + 1 }, (_, i) => i * step)
  return (
    <>
      <path
        d={`M${n(x(0))} ${n(y)}H${n(x(toCm))}${ticks.map((cm) => `M${n(x(cm))} ${n(y)}v4`).join('')}`}
        fill="none"
        stroke="var(--ink-3)"
        strokeWidth={0.9}
      />
      {ticks.map((cm) => (
        <Words
          key={cm}
          x={cm === 0 ? x(0) : x(cm)}
          y={y + 4 + 12 * textScale}
          anchor={cm === 0 ? 'start' : 'middle'}
          size={11}
        >
          {cm === 0 ? '0 cm' : figure(cm)}
        </Words>
      ))}
    </>
  )
}
