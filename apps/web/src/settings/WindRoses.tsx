import { windSays } from './WindRose.tsx'

const SIZE = 190
const MOST = 66
/** Half a petal's width, in sixteenths of the circle. */
const PETAL = 0.42
const letters = ['N', 'E', 'S', 'W'] as const

/** A rose of strong gusts at full size: a petal for each of sixteen directions, pointing to where the wind comes from. */
export function WindRoses({
  roses,
}: {
  roses: readonly { title: string; rose: readonly number[] | null }[]
}) {
  const most = Math.max(...roses.flatMap(({ rose }) => rose ?? []), 1e-9)
  return (
    <div className="wind-roses">
      {roses.map(({ title, rose }) => (
        <figure key={title}>
          <figcaption>
            <b>{title}</b>
            <br />
            <span className="s q">
              {rose ? `most from ${windSays(rose)}` : 'not known: every bearing alike'}
            </span>
          </figcaption>
          <Rose
            rose={rose ?? Array.from({ length: 16 }, () => 1 / 16)}
            most={most}
            faint={rose === null}
            says={title}
          />
        </figure>
      ))}
    </div>
  )
}

function Rose({
  rose,
  most,
  faint,
  says,
}: {
  rose: readonly number[]
  most: number
  faint: boolean
  says: string
}) {
  const petal = (share: number, i: number) => {
    const length = (share / most) * MOST
    const corner = (turn: number) => {
      const angle = ((i + turn) * Math.PI) / 8
      return `${(Math.sin(angle) * length).toFixed(1)} ${(-Math.cos(angle) * length).toFixed(1)}`
    }
    return `M0 0L${corner(-PETAL)}A${length.toFixed(1)} ${length.toFixed(1)} 0 0 1 ${corner(PETAL)}Z`
  }
  return (
    <svg
      viewBox={`${-SIZE / 2} ${-SIZE / 2} ${SIZE} ${SIZE}`}
      width={SIZE}
      height={SIZE}
      role="img"
      aria-label={`${says}: ${faint ? 'every bearing alike' : `most from ${windSays(rose)}`}`}
    >
      <circle r={MOST} fill="none" stroke="var(--rule)" />
      <circle r={MOST / 2} fill="none" stroke="var(--rule)" strokeDasharray="2 3" />
      {rose.map((share, i) => (
        <path
          key={i}
          d={petal(share, i)}
          fill={faint ? 'none' : 'var(--ink)'}
          stroke={faint ? 'var(--ink-3)' : 'none'}
          strokeDasharray="2 3"
        />
      ))}
      {letters.map((letter, i) => (
        <text
          key={letter}
          x={Math.sin((i * Math.PI) / 2) * (MOST + 15)}
          y={-Math.cos((i * Math.PI) / 2) * (MOST + 15) + 5}
          textAnchor="middle"
          fontSize={14}
          fontWeight={letter === 'N' ? 600 : 400}
          fill="var(--ink-2)"
        >
          {letter}
        </text>
      ))}
    </svg>
  )
}
