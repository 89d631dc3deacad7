import { useState } from 'react'
import { type Arc, holdsSector, sectorArc, sectorCount, withArc, withoutArc } from './arcs.ts'

const SIZE = 320
const C = SIZE / 2
const OUTER = 140
const INNER = 74
const names = [
  'N',
  'NNE',
  'NE',
  'ENE',
  'E',
  'ESE',
  'SE',
  'SSE',
  'S',
  'SSW',
  'SW',
  'WSW',
  'W',
  'WNW',
  'NW',
  'NNW',
]

const point = (deg: number, radius: number) =>
  `${(C + radius * Math.sin((deg * Math.PI) / 180)).toFixed(1)} ${(C - radius * Math.cos((deg * Math.PI) / 180)).toFixed(1)}`
function wedge({ fromBearingDeg, toBearingDeg }: Arc, inner: number, outer: number): string {
  const wide = (toBearingDeg - fromBearingDeg + 360) % 360 || 359.99
  const to = fromBearingDeg + wide
  const large = wide > 180 ? 1 : 0
  return `M${point(fromBearingDeg, outer)}A${outer} ${outer} 0 ${large} 1 ${point(to, outer)}L${point(to, inner)}A${inner} ${inner} 0 ${large} 0 ${point(fromBearingDeg, inner)}Z`
}

/** The stem from above in sixteenths: a tap says that it sounds dull there, another takes it back. Arrow keys go round, space taps. */
export function SectorRing({
  label,
  arcs,
  onChange,
}: {
  label: string
  arcs: readonly Arc[]
  onChange(arcs: Arc[]): void
}) {
  const [at, setAt] = useState(0)
  const tap = (sector: number) =>
    onChange((holdsSector(arcs, sector) ? withoutArc : withArc)(arcs, sectorArc(sector)))
  return (
    <svg className="sector-ring" viewBox={`0 0 ${SIZE} ${SIZE}`} role="group" aria-label={label}>
      {names.map((name, sector) => (
        <path
          key={name}
          className="sector"
          d={wedge(sectorArc(sector), INNER, OUTER)}
          role="checkbox"
          aria-checked={holdsSector(arcs, sector)}
          aria-label={`dull to the ${name}`}
          tabIndex={sector === at ? 0 : -1}
          onClick={() => {
            setAt(sector)
            tap(sector)
          }}
          onKeyDown={(event) => {
            if (event.key === ' ' || event.key === 'Enter') {
              event.preventDefault()
              tap(sector)
              return
            }
            const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key]
            if (by === undefined) return
            event.preventDefault()
            const next = (sector + by + sectorCount) % sectorCount
            setAt(next)
            const ring = event.currentTarget.parentElement
            ring?.querySelectorAll<SVGPathElement>('.sector')[next]?.focus()
          }}
        />
      ))}
      {arcs.map((arc) => (
        <path
          key={`${arc.fromBearingDeg}-${arc.toBearingDeg}`}
          className="sector-dull"
          d={wedge(arc, INNER, OUTER)}
        />
      ))}
      {['N', 'E', 'S', 'W'].map((word, i) => (
        <text
          key={word}
          className="m sector-word"
          x={point(i * 90, 152).split(' ')[0]}
          y={Number(point(i * 90, 152).split(' ')[1]) + 5}
        >
          {word}
        </text>
      ))}
      <text className="m sector-word" x={C} y={C - 4}>
        tap where it
      </text>
      <text className="m sector-word" x={C} y={C + 16}>
        sounds dull
      </text>
    </svg>
  )
}
