import type { Section, Shares } from '@underbough/wood'
import { type Point, pathOf, polar } from '../draw/geometry.ts'
import { Line, Picture, type PictureProps, Words } from '../draw/picture.tsx'
import { metres } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { limitsWords } from './describe-section.ts'

const percent = (share: number) => `${Math.round(share * 100)} %`

/** One plain sentence for under the rose; without figures it says why there are none. */
export function strengthRoseCaption(section: Section): string {
  const { rose, weakestBearingDeg: weakest, share } = section
  if (!rose || weakest === null || !share || share.p50 === null)
    return `No bending strength by bearing: ${limitsWords(section) || 'no reading'}.`
  const high = rose.reduce((a, b) => (b.p50 > a.p50 ? b : a))
  return `Bent along ${Math.round(weakest)}° and ${Math.round(weakest) + 180}° this cross-section keeps the least of its sound bending strength, about ${percent(share.p50)} (cautiously ${percent(share.p05)}); the other way up to ${percent(high.p50)}.`
}

/** The rose in words. */
export function describeStrengthRose(section: Section): string {
  if (!section.rose) return strengthRoseCaption(section)
  const at = [0, 45, 90, 135].map((bearing) => {
    const one = section.rose![Math.round(bearing / section.stepDeg)]!
    return `${bearing}° and ${bearing + 180}°: ${percent(one.p05)}, ${percent(one.p50)}, ${percent(one.p95)}`
  })
  return `${strengthRoseCaption(section)} Share of sound at 5, 50 and 95 % of the drawn walls: ${at.join('; ')}. Section at ${metres(section.heightM)}.`
}

/**
 * Share of the sound bending strength left, by the bearing the stem bends towards: firm line and tint the 50 %, broken line the 5 %, dotted
 * the 95 %. Grey where bending may not be what breaks it. Nothing without figures.
 */
export function StrengthRose({ section, widthPx = 264, textScale = 1 }: PictureProps & { section: Section }) {
  const { rose, stepDeg } = section
  if (!rose) return null
  const c = widthPx / 2
  const r = Math.min(120, c - 22 * textScale)
  const cy = r + 22 * textScale
  const line = (pick: (one: Shares) => number) =>
    pathOf(
      rose.map((one, i): Point => polar(c, cy, r * Math.min(1.02, pick(one)), i * stepDeg)),
      true,
    )
  const ink = section.bendingOnly ? 'var(--ink-3)' : 'var(--ink)'
  const weakest = section.weakestBearingDeg
  return (
    <Picture
      widthPx={widthPx}
      heightPx={cy + r + 24 * textScale}
      says={describeStrengthRose(section)}
      textScale={textScale}
    >
      {[25, 50, 75, 100].map((share) => (
        <circle
          key={share}
          cx={n(c)}
          cy={n(cy)}
          r={n((r * share) / 100)}
          fill="none"
          stroke={share === 100 ? 'var(--ink-3)' : 'var(--rule)'}
          strokeWidth={share === 100 ? 1.2 : 0.8}
        />
      ))}
      <path
        data-part="p50"
        d={line((one) => one.p50)}
        fill="var(--wood-sound)"
        fillOpacity={section.bendingOnly ? 0.2 : 0.45}
        stroke={ink}
        strokeWidth={1.6}
      />
      <path
        data-part="p95"
        d={line((one) => one.p95)}
        fill="none"
        stroke={ink}
        strokeWidth={1}
        strokeDasharray="1 3"
      />
      <path
        data-part="p05"
        d={line((one) => one.p05)}
        fill="none"
        stroke={ink}
        strokeWidth={1.4}
        strokeDasharray="5 3"
      />
      {['N', 'E', 'S', 'W'].map((word, i) => {
        const [x, y] = polar(c, cy, r + 12 * textScale, i * 90)
        return (
          <g key={word}>
            <Line from={polar(c, cy, r, i * 90)} to={polar(c, cy, r + 5, i * 90)} tone="ink-3" />
            <Words x={x} y={y + 4 * textScale} anchor="middle">
              {word}
            </Words>
          </g>
        )
      })}
      {[25, 50, 75, 100].map((share) => (
        <Words
          key={share}
          x={c + (share === 100 ? 9 : 4) * textScale}
          y={cy - (r * share) / 100 + 4}
          size={11}
          halo
        >
          {share === 100 ? '100 % sound' : share}
        </Words>
      ))}
      {weakest !== null &&
        [weakest, weakest + 180].map((bearing) => {
          const [x, y] = polar(c, cy, r * rose[Math.round(weakest / stepDeg)]!.p50, bearing)
          return (
            <circle
              key={bearing}
              data-part="weakest"
              cx={n(x)}
              cy={n(y)}
              r={3.6}
              fill="var(--paper)"
              stroke="var(--accent)"
              strokeWidth={1.8}
            />
          )
        })}
    </Picture>
  )
}
