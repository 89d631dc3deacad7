import type { ConsequenceWord, FailureWord, ImpactWord, JointWord, RiskWord } from '@underbough/model'
import { Picture, type PictureProps, Words } from '../draw/picture.tsx'
import { counted, wordsWidth } from '../draw/say.ts'
import { n } from '../draw/shape.ts'

/** One rating: the words a person gave, and those that follow from them. */
export interface RatedPath {
  failure: FailureWord
  impact: ImpactWord
  joint: JointWord
  consequences: ConsequenceWord
  risk: RiskWord
  timeFrameYears: number
}

const steps = (path: RatedPath) => {
  const words = [
    { word: path.failure, under: `failure in ${counted(path.timeFrameYears, 'year')}` },
    { word: path.joint, under: 'failure and impact' },
    { word: path.risk, under: 'risk' },
  ] as const
  const joins = [
    { what: 'impact', word: path.impact },
    { what: 'consequences', word: path.consequences },
  ] as const
  return { words, joins }
}

/** A rating as a path of three words; what joins them is said over the line. Where the width is too small the path runs downwards. */
export function WordPath({
  path,
  widthPx = 330,
  textScale = 1,
  size = 15,
}: PictureProps & { path: RatedPath; size?: number }) {
  const { words, joins } = steps(path)
  const big = size * textScale
  const widths = words.map(({ word }) => wordsWidth(word, big, true))
  const gap = (widthPx - widths.reduce((a, b) => a + b, 0)) / 2
  const roomy = joins.every(
    ({ what, word }) =>
      gap > Math.max(wordsWidth(what, 12 * textScale), wordsWidth(word, 12 * textScale)) + 8,
  )
  if (!roomy) return <Downwards path={path} widthPx={widthPx} textScale={textScale} size={size} />
  const y = 42 * textScale
  const starts = [0, widths[0]! + gap, widthPx]
  return (
    <Picture
      widthPx={widthPx}
      heightPx={y + 22 * textScale}
      says={describeWordPath(path)}
      textScale={textScale}
    >
      {words.map(({ word, under }, i) => {
        const anchor = (['start', 'middle', 'end'] as const)[i]!
        const x = i === 1 ? starts[1]! + widths[1]! / 2 : starts[i]!
        return (
          <g key={under}>
            <Words x={x} y={y} anchor={anchor} size={size} tone="ink" firm>
              {word}
            </Words>
            <Words x={x} y={y + 17 * textScale} anchor={anchor}>
              {under}
            </Words>
          </g>
        )
      })}
      {joins.map(({ what, word }, i) => {
        const from = starts[i]! + widths[i]! + 5
        const to = from + gap - 12
        return (
          <g key={what}>
            <Arrow d={`M${n(from)} ${n(y - 5)}H${n(to)}M${n(to - 5)} ${n(y - 9)}l5 4l-5 4`} />
            <Words x={(from + to) / 2} y={y - 27 * textScale} anchor="middle">
              {what}
            </Words>
            <Words x={(from + to) / 2} y={y - 13 * textScale} anchor="middle" tone="ink">
              {word}
            </Words>
          </g>
        )
      })}
    </Picture>
  )
}

const Arrow = ({ d }: { d: string }) => <path d={d} fill="none" stroke="var(--ink)" strokeWidth={1.3} />

function Downwards({
  path,
  widthPx,
  textScale,
  size,
}: {
  path: RatedPath
  widthPx: number
  textScale: number
  size: number
}) {
  const { words, joins } = steps(path)
  const row = 62 * textScale
  const y = (i: number) => 16 * textScale + i * row
  return (
    <Picture
      widthPx={widthPx}
      heightPx={y(2) + 24 * textScale}
      says={describeWordPath(path)}
      textScale={textScale}
    >
      {words.map(({ word, under }, i) => (
        <g key={under}>
          <Words x={0} y={y(i)} size={size} tone="ink" firm>
            {word}
          </Words>
          <Words x={0} y={y(i) + 16 * textScale}>
            {under}
          </Words>
        </g>
      ))}
      {joins.map(({ what, word }, i) => {
        const from = y(i) + 22 * textScale
        const to = y(i + 1) - 16 * textScale
        return (
          <g key={what}>
            <Arrow d={`M6 ${n(from)}V${n(to)}M2 ${n(to - 5)}l4 5l4 -5`} />
            <Words x={18} y={(from + to) / 2 + 4 * textScale} tone="ink">
              {`${what} ${word}`}
            </Words>
          </g>
        )
      })}
    </Picture>
  )
}

/** The path in words. */
export const describeWordPath = (path: RatedPath): string =>
  `Likelihood of failure within ${counted(path.timeFrameYears, 'year')}: ${path.failure}. Likelihood of impact: ${path.impact}. Together: ${path.joint}. Consequences: ${path.consequences}. Risk: ${path.risk}.`
