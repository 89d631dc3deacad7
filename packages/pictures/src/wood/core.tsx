import type { ProbeOf } from '@underbough/model'
import { Picture, type PictureProps, usePrefix, Words } from '../draw/picture.tsx'
import { figure } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { WoodPatterns } from './patterns.tsx'
import { spansOf, spansWords } from './spans.ts'
import { DepthAxis, rowsOf, SpanStrip, SpanWords } from './strip.tsx'

export interface CoreFacts {
  core: ProbeOf<'core'>['reading']
  /** From the outside of the bark to the middle of the stem there; null while it is not known. */
  radiusCm: number | null
  /** Where a fracture test broke it, and the bend at which it broke. */
  breaks?: readonly { atCm: number; angleDeg: number }[]
  /** The photo of the real core and when it was taken; null while there is none. */
  photo?: { href: string; says: string } | null
}

const endOf = ({ core, radiusCm }: CoreFacts) => Math.max(core.reachedCm, radiusCm ?? 0)
const coreSpans = (facts: CoreFacts) => spansOf(facts.core.barkCm, facts.core.segments, endOf(facts))

/** The share of the way to the middle that the borer read; null while the radius is not known. */
export function readShare({ core, radiusCm }: CoreFacts): number | null {
  if (radiusCm === null || radiusCm <= core.barkCm) return null
  const read = core.segments.reduce(
    (sum, one) => sum + Math.max(0, Math.min(one.toCm, radiusCm) - Math.max(one.fromCm, core.barkCm)),
    0,
  )
  return Math.min(1, read / (radiusCm - core.barkCm))
}

/** One plain sentence: what came out, and how much of the way to the middle it tells of. */
export function coreCaption(facts: CoreFacts): string {
  const { core, radiusCm } = facts
  const firm = core.segments
    .filter((one) => one.condition === 'sound' || one.condition === 'stained')
    .reduce((sum, one) => sum + one.toCm - one.fromCm, 0)
  const other = core.segments.reduce((sum, one) => sum + one.toCm - one.fromCm, 0) - firm
  const found =
    other < 0.05
      ? `${figure(firm)} cm of firm wood came out`
      : `${figure(firm)} cm of firm wood and ${figure(other)} cm of softened or missing wood`
  const share = readShare(facts)
  const left =
    radiusCm === null ? 0 : radiusCm - Math.max(core.barkCm, ...core.segments.map((one) => one.toCm))
  if (share === null) return `From the bark inwards: ${found}; how far the middle is was not measured.`
  return left > 0.5
    ? `From the bark inwards: ${found}; the borer read ${Math.round(share * 100)} % of the way to the middle, and what lies in the last ${figure(left)} cm nobody knows.`
    : `From the bark inwards: ${found}; the borer read all the way to the middle.`
}

export function describeCore(facts: CoreFacts): string {
  const breaks = facts.breaks?.length
    ? ` Broken at ${facts.breaks.map((one) => `${figure(one.atCm)} cm by ${figure(one.angleDeg)}°`).join(', ')}.`
    : ''
  return `${coreCaption(facts)} In order: ${spansWords(coreSpans(facts))}.${breaks}`
}

const PHOTO_PX = 26

/** A core as a strip from the bark inwards, to scale, its photo over it; what the borer did not reach is hatched up to the middle. */
export function CoreStrip(props: CoreFacts & PictureProps) {
  const { core, radiusCm, breaks = [], photo = null, widthPx = 520, textScale = 1 } = props
  const prefix = usePrefix()
  const end = endOf(props)
  const spans = coreSpans(props)
  const x = (cm: number) => 2 + (cm / end) * (widthPx - 26)
  const photoY = 1
  const breaksY = photoY + PHOTO_PX + 4
  const stripY = breaksY + (breaks.length > 0 ? 22 * textScale : 4)
  const wordsY = stripY + 26 + 14 * textScale
  const axisY = wordsY + (rowsOf(spans, x, textScale, widthPx) - 1) * 15 * textScale + 8 * textScale
  const pith = core.pith?.reached ? core.pith.atCm : radiusCm
  return (
    <Picture
      widthPx={widthPx}
      heightPx={axisY + 20 * textScale}
      says={describeCore(props)}
      textScale={textScale}
    >
      <WoodPatterns prefix={prefix} />
      <rect
        x={2}
        y={photoY}
        width={n(x(core.reachedCm) - 2)}
        height={PHOTO_PX}
        fill="var(--sunk)"
        stroke="var(--rule)"
        strokeWidth={0.8}
      />
      {photo ? (
        <image
          href={photo.href}
          x={2}
          y={photoY}
          width={n(x(core.reachedCm) - 2)}
          height={PHOTO_PX}
          preserveAspectRatio="xMidYMid slice"
        />
      ) : (
        <Words x={8} y={photoY + 17} italic size={Math.min(12, 15 / textScale)}>
          no photo of this core yet
        </Words>
      )}
      {breaks.map((one, i) => (
        <g key={one.atCm} data-part="break">
          {/* Where two stand too close for their words, the first keeps them; the table has all. */}
          {breaks.slice(0, i).every((other) => Math.abs(x(other.atCm) - x(one.atCm)) > 24 * textScale) && (
            <Words x={x(one.atCm)} y={stripY - 9} anchor="middle" size={11}>
              {`${figure(one.angleDeg, 0)}°`}
            </Words>
          )}
          <path d={`M${n(x(one.atCm) - 4)} ${n(stripY - 7)}h8l-4 6Z`} fill="var(--ink)" />
        </g>
      ))}
      <SpanStrip spans={spans} x={x} y={stripY} heightPx={24} prefix={prefix} />
      {pith !== null && pith <= end + 0.01 && (
        <g data-part="pith">
          <path
            d={`M${n(x(pith))} ${n(stripY - 4)}V${n(stripY + 28)}`}
            stroke="var(--ink)"
            strokeWidth={1.4}
            strokeDasharray={core.pith?.reached ? undefined : '3 2'}
          />
        </g>
      )}
      <SpanWords spans={spans} x={x} y={wordsY} textScale={textScale} widthPx={widthPx} />
      <DepthAxis x={x} y={axisY} toCm={end} textScale={textScale} />
    </Picture>
  )
}
