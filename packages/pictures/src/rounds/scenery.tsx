import { ZonePath } from '../draw/patterns.tsx'
import { n } from '../draw/shape.ts'
import type { RouteStop } from './route.ts'

interface SceneryProps {
  stops: readonly RouteStop[]
  places: readonly number[]
  left: number
  right: number
  heightPx: number
  prefix: string
}

/** What the way passes: greens, roads crossed, and the zones beside the stops. Drawn for recognising, not to scale. */
export function Scenery({ stops, places, left, right, heightPx, prefix }: SceneryProps) {
  return (
    <>
      <rect x={left} y={0} width={right - left} height={n(heightPx)} fill="var(--land)" />
      {greens(stops, places, heightPx).map(([from, to]) => (
        <path
          key={from}
          d={`M${left} ${n(from + 6)}Q${(left + right) / 2} ${n(from - 6)} ${right} ${n(from + 8)}V${n(to - 6)}Q${(left + right) / 2} ${n(to + 8)} ${left} ${n(to - 4)}Z`}
          fill="var(--green)"
        />
      ))}
      {stops.map((stop, i) => {
        if (!stop.crossesRoad || i === 0) return null
        const y = (places[i - 1]! + places[i]!) / 2
        return (
          <g key={stop.id}>
            <path
              d={`M${left} ${n(y - 2)}L${right} ${n(y - 9)}V${n(y + 4)}L${left} ${n(y + 11)}Z`}
              fill="var(--zone-road)"
            />
            <path
              d={`M${left} ${n(y - 2)}L${right} ${n(y - 9)}M${left} ${n(y + 11)}L${right} ${n(y + 4)}`}
              stroke="var(--zone-ink)"
            />
          </g>
        )
      })}
      {stops.flatMap((stop, i) =>
        (stop.beside ?? []).map(({ side, kind }) => (
          <ZonePath
            key={`${stop.id}-${side}`}
            kind={kind}
            prefix={prefix}
            d={besidePath(kind, side, places[i]!, left, right)}
          />
        )),
      )}
    </>
  )
}

/** Runs of stops that stand on green, from half-way before the first to half-way after the last. */
function greens(
  stops: readonly RouteStop[],
  places: readonly number[],
  heightPx: number,
): [number, number][] {
  const runs: [number, number][] = []
  stops.forEach((stop, i) => {
    if (!stop.onGreen) return
    const from = i === 0 ? -20 : (places[i - 1]! + places[i]!) / 2
    const to = i === stops.length - 1 ? heightPx + 20 : (places[i]! + places[i + 1]!) / 2
    const last = runs.at(-1)
    if (last && last[1] >= from - 0.5) last[1] = to
    else runs.push([from, to])
  })
  return runs
}

function besidePath(kind: string, side: 'left' | 'right', y: number, left: number, right: number): string {
  const x = side === 'left' ? left : right
  const inwards = side === 'left' ? 1 : -1
  if (kind === 'seating') {
    const corners = Array.from({ length: 8 }, (_, i) => {
      const turn = ((i + 0.5) * Math.PI) / 4
      return `${n(x + inwards * 12 + 10 * Math.cos(turn))} ${n(y + 3 + 10 * Math.sin(turn))}`
    })
    return `M${corners.join('L')}Z`
  }
  if (kind === 'play')
    return `M${x} ${n(y - 14)}q${24 * inwards} -8 ${20 * inwards} 14q${-4 * inwards} 16 ${-20 * inwards} 12Z`
  return `M${x} ${n(y - 17)}h${18 * inwards}v34h${-18 * inwards}Z`
}
