import { useId } from 'react'
import type { ViewState } from './port.ts'
import { labelStep, letters, type Squares, scaleStep } from './squares.ts'

export const neatLinePx = 20

interface Tick {
  at: number
  label: string
  labelAt: number
}

/** Edges and labels of the squares along one side, px from the frame's corner. */
function ticks(
  count: number,
  edge: (i: number) => number,
  name: (i: number) => string,
  length: number,
): Tick[] {
  const step = labelStep(Math.abs(edge(1) - edge(0)), 56)
  const out: Tick[] = []
  for (let i = 0; i < count; i += step) {
    const from = edge(i)
    const to = edge(Math.min(count, i + step))
    if (to < 0 || from > length) continue
    out.push({ at: from, label: name(i), labelAt: (Math.max(0, from) + Math.min(length, to)) / 2 })
  }
  return out
}

/** The atlas frame around the map: double neat line, lettered and numbered squares, scale bar and north. Decoration for those who listen: every tree says its square. */
export function Furniture({
  width,
  height,
  view,
  squares,
  compact,
}: {
  width: number
  height: number
  view: ViewState
  squares: Squares
  compact?: boolean
}) {
  const clip = useId()
  const m = compact ? 0 : neatLinePx
  const w = width - 2 * m
  const h = height - 2 * m
  const [west, , , north] = view.bounds
  const columns = ticks(squares.columns, (i) => view.project(squares.westOf(i), north).x, letters, w)
  const rows = ticks(
    squares.rows,
    (i) => view.project(west, squares.northOf(i)).y,
    (i) => String(i + 1),
    h,
  )
  const inside = (at: number, length: number) => at > 4 && at < length - 4
  return (
    <svg
      className="furniture"
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      aria-hidden="true"
    >
      <clipPath id={clip}>
        <rect x={m} y={m} width={w} height={h} />
      </clipPath>
      <g clipPath={`url(#${clip})`} className="square-lines">
        {columns
          .filter((t) => inside(t.at, w))
          .map((t) => (
            <path key={t.label} d={`M${m + t.at} ${m}V${m + h}`} />
          ))}
        {rows
          .filter((t) => inside(t.at, h))
          .map((t) => (
            <path key={t.label} d={`M${m} ${m + t.at}H${m + w}`} />
          ))}
      </g>
      {compact ? null : (
        <>
          <rect className="neat" x={m} y={m} width={w} height={h} />
          <rect className="neat-outer" x={m - 4} y={m - 4} width={w + 8} height={h + 8} />
          <g className="neat">
            {columns
              .filter((t) => inside(t.at, w))
              .map((t) => (
                <path
                  key={t.label}
                  d={`M${m + t.at} ${m - 4}V${m + 4}M${m + t.at} ${m + h - 4}V${m + h + 4}`}
                />
              ))}
            {rows
              .filter((t) => inside(t.at, h))
              .map((t) => (
                <path
                  key={t.label}
                  d={`M${m - 4} ${m + t.at}H${m + 4}M${m + w - 4} ${m + t.at}H${m + w + 4}`}
                />
              ))}
          </g>
          {columns.map((t) => (
            <g key={t.label}>
              <text className="m s k" x={m + t.labelAt} y={m - 7}>
                {t.label}
              </text>
              <text className="m s k" x={m + t.labelAt} y={m + h + 15}>
                {t.label}
              </text>
            </g>
          ))}
          {rows.map((t) => (
            <g key={t.label}>
              <text className="m s k" x={m - 11} y={m + t.labelAt + 4}>
                {t.label}
              </text>
              <text className="m s k" x={m + w + 11} y={m + t.labelAt + 4}>
                {t.label}
              </text>
            </g>
          ))}
        </>
      )}
      <ScaleAndNorth right={m + w} foot={m + h} metresPerPx={view.metresPerPx} />
    </svg>
  )
}

function ScaleAndNorth({ right, foot, metresPerPx }: { right: number; foot: number; metresPerPx: number }) {
  const step = scaleStep(metresPerPx, 100)
  const part = step / metresPerPx
  const inKm = step * 2 >= 1000
  const say = (metres: number) => String(inKm ? metres / 1000 : metres)
  const boxWidth = 2 * part + 78
  const x = right - boxWidth + 14
  const y = foot - 20
  return (
    <g>
      <rect className="scale-bed" x={right - boxWidth} y={foot - 38} width={boxWidth} height={38} />
      <path
        className="neat"
        d={`M${x} ${y + 6}H${x + 2 * part}M${x} ${y + 1}V${y + 6}M${x + part} ${y + 1}V${y + 6}M${x + 2 * part} ${y + 1}V${y + 6}`}
      />
      <text className="m s" x={x} y={y - 3}>
        0
      </text>
      {part > 36 ? (
        <text className="m s" x={x + part} y={y - 3}>
          {say(step)}
        </text>
      ) : null}
      <text className="m s" x={x + 2 * part} y={y - 3}>
        {say(step * 2)} {inKm ? 'km' : 'm'}
      </text>
      <path
        className="neat"
        d={`M${right - 20} ${y + 10}V${y - 12}M${right - 24} ${y - 5}L${right - 20} ${y - 13}L${right - 16} ${y - 5}`}
      />
      <text className="m s b" x={right - 9} y={y - 4}>
        N
      </text>
    </g>
  )
}
