import type { ProbeOf } from '@underbough/model'
import { Picture, type PictureProps, usePrefix, Words } from '../draw/picture.tsx'
import { compassWord, counted, figure, listed, metres } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { WoodPatterns, woodFill } from './patterns.tsx'

export interface SoundingFacts {
  rounds: ProbeOf<'sounding'>['reading']['rounds']
}
const width = (arc: { fromBearingDeg: number; toBearingDeg: number }) =>
  (arc.toBearingDeg - arc.fromBearingDeg + 360) % 360 || 360

/** One plain sentence: where the mallet sounded dull. */
export function soundingCaption({ rounds }: SoundingFacts): string {
  const dull = rounds.filter((one) => one.dullArcs.length > 0)
  const heights = listed(rounds.map((one) => metres(one.heightM)))
  if (dull.length === 0)
    return `Struck with a mallet at ${heights}: clear wherever it was struck, which tells nothing of decay deeper in.`
  return `Struck with a mallet at ${heights}: dull ${listed(
    dull.map(
      (one) =>
        `at ${metres(one.heightM)} to the ${listed(one.dullArcs.map((arc) => compassWord(arc.fromBearingDeg + width(arc) / 2)))}`,
    ),
  )}; a dull sound shows loose bark or a hollow near the outside, not how deep it goes.`
}

export function describeSounding(facts: SoundingFacts): string {
  const rows = facts.rounds.map(
    (one) =>
      `${metres(one.heightM)}, struck ${one.struck === 'all-round' ? 'all round' : 'in part'}: ${
        one.dullArcs.length
          ? one.dullArcs
              .map((arc) => `dull from ${figure(arc.fromBearingDeg, 0)}° to ${figure(arc.toBearingDeg, 0)}°`)
              .join(', ')
          : 'nothing dull'
      }`,
  )
  return `${counted(facts.rounds.length, 'height')}. ${soundingCaption(facts)} ${rows.join('. ')}.`
}

/** The stem's outside unrolled: bearings across, heights up; dull arcs as bars, clear as a line, unstruck as hatch. */
export function SoundingRings({ rounds, widthPx = 380, textScale = 1 }: SoundingFacts & PictureProps) {
  const prefix = usePrefix()
  const left = 46 * textScale
  const right = widthPx - 14
  const rows = [...rounds].sort((a, b) => b.heightM - a.heightM)
  const rowPx = 26 * Math.max(1, textScale * 0.85)
  const x = (bearing: number) => left + (bearing / 360) * (right - left)
  const foot = rows.length * rowPx + 6
  return (
    <Picture
      widthPx={widthPx}
      heightPx={foot + 22 * textScale}
      says={describeSounding({ rounds })}
      textScale={textScale}
    >
      <WoodPatterns prefix={prefix} />
      {rows.map((one, i) => {
        const y = i * rowPx + rowPx / 2 + 2
        return (
          <g key={`${one.heightM}-${i}`} data-part="round">
            <Words x={left - 8} y={y + 4} anchor="end">
              {metres(one.heightM)}
            </Words>
            <rect
              x={n(left)}
              y={n(y - 7)}
              width={n(right - left)}
              height={14}
              fill={one.struck === 'all-round' ? 'var(--leaf)' : woodFill(prefix, 'unread')}
              stroke="var(--edge)"
              strokeWidth={0.9}
            />
            {one.struck === 'all-round' && (
              <path d={`M${n(left)} ${n(y)}H${n(right)}`} stroke="var(--ink-3)" strokeWidth={1} />
            )}
            {one.dullArcs.flatMap((arc) => {
              const to = arc.fromBearingDeg + width(arc)
              const parts =
                to <= 360
                  ? [[arc.fromBearingDeg, to]]
                  : [
                      [arc.fromBearingDeg, 360],
                      [0, to - 360],
                    ]
              return parts.map(([a, b]) => (
                <rect
                  key={`${a}-${b}`}
                  data-part="dull"
                  x={n(x(a!))}
                  y={n(y - 7)}
                  width={n(x(b!) - x(a!))}
                  height={14}
                  fill="var(--ink)"
                />
              ))
            })}
          </g>
        )
      })}
      {['N', 'E', 'S', 'W', 'N'].map((word, i) => (
        <g key={`${word}${i === 4 ? ' again' : ''}`}>
          <path d={`M${n(x(i * 90))} ${n(foot - 4)}v5`} stroke="var(--ink-3)" />
          <Words x={x(i * 90)} y={foot + 14 * textScale} anchor="middle">
            {word}
          </Words>
        </g>
      ))}
    </Picture>
  )
}
