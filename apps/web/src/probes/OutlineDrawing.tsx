import type { BearingRow } from './values.ts'

const SIZE = 240
const C = SIZE / 2
const ROOM = 92

/** Figures by bearing as a shape, north up, to the scale of the longest. `inwards` draws walls from a round outside towards the middle. */
export function OutlineDrawing({
  rows,
  says,
  inwards = false,
}: {
  rows: readonly BearingRow[]
  says: string
  inwards?: boolean
}) {
  const given = rows
    .flatMap(({ bearingDeg, cm }) =>
      bearingDeg === null || cm === null || cm < 0 ? [] : [{ bearingDeg, cm }],
    )
    .sort((a, b) => a.bearingDeg - b.bearingDeg)
  if (given.length === 0) return null
  const most = Math.max(...given.map(({ cm }) => cm), 1e-6)
  const radius = (cm: number) => (inwards ? ROOM - (cm / most) * ROOM * 0.6 : (cm / most) * ROOM)
  const at = (deg: number, r: number): [number, number] => [
    C + r * Math.sin((deg * Math.PI) / 180),
    C - r * Math.cos((deg * Math.PI) / 180),
  ]
  const points = given.map(({ bearingDeg, cm }) => at(bearingDeg, radius(cm)))
  return (
    <svg className="outline-drawing" viewBox={`0 0 ${SIZE} ${SIZE}`} role="img" aria-label={says}>
      {inwards ? <circle cx={C} cy={C} r={ROOM} fill="none" stroke="var(--ink)" strokeWidth={1.4} /> : null}
      {points.length > 2 ? (
        <path
          d={`M${points.map((p) => p.map((v) => v.toFixed(1)).join(' ')).join('L')}Z`}
          fill={inwards ? 'none' : 'var(--leaf)'}
          stroke="var(--ink)"
          strokeWidth={1.4}
        />
      ) : null}
      {points.map(([x, y], i) => {
        const [ox, oy] = inwards ? at(given[i]!.bearingDeg, ROOM) : [C, C]
        return (
          <g key={`${given[i]!.bearingDeg}-${i}`}>
            <path d={`M${ox} ${oy}L${x} ${y}`} stroke="var(--edge)" strokeWidth={1} />
            <circle cx={x} cy={y} r={4} fill="var(--accent)" />
          </g>
        )
      })}
      {['N', 'E', 'S', 'W'].map((word, i) => {
        const [x, y] = at(i * 90, ROOM + 15)
        return (
          <text key={word} className="m outline-word" x={x} y={y + 5}>
            {word}
          </text>
        )
      })}
    </svg>
  )
}
