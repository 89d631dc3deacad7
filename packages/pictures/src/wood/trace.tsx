import type { WoodSegment } from '@underbough/model'
import { useRef, useState } from 'react'
import { Line, Picture, type PictureProps, usePrefix, Words } from '../draw/picture.tsx'
import { counted, figure } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { WoodPatterns } from './patterns.tsx'
import { shortName, spansOf, spansWords } from './spans.ts'
import { DepthAxis, rowsOf, SpanStrip, SpanWords } from './strip.tsx'

export interface TraceFacts {
  label: string
  /** Points to draw, thinned so that no peak is lost; same length. */
  depthsCm: ArrayLike<number>
  resistances: ArrayLike<number>
  /** As the instrument states it. */
  resistanceUnit: string
  barkCm: number
  segments: readonly WoodSegment[]
  /** `proposed`: by the program; `accepted`: a person stands by them. */
  state: 'proposed' | 'accepted'
  /** From the outside of the bark to the middle of the stem; null while it is not known. */
  radiusCm: number | null
}

const lastOf = (list: ArrayLike<number>) => (list.length ? list[list.length - 1]! : 0)
const endOf = (facts: TraceFacts) => Math.max(lastOf(facts.depthsCm), facts.radiusCm ?? 0, 0.1)
const traceSpans = (facts: TraceFacts) => spansOf(facts.barkCm, facts.segments, endOf(facts))

/** One plain sentence; a trace tells resistance, not strength. */
export function traceCaption(facts: TraceFacts): string {
  const firm = facts.segments.filter((one) => one.condition === 'sound' || one.condition === 'stained')
  const length = firm.reduce((sum, one) => sum + one.toCm - one.fromCm, 0)
  const who =
    facts.state === 'proposed' ? 'The program proposes, and nobody has accepted:' : 'As accepted by a person:'
  const end = lastOf(facts.depthsCm)
  const open =
    facts.radiusCm !== null && facts.radiusCm > end + 0.5
      ? ` The drill stopped ${figure(facts.radiusCm - end)} cm before the middle, and what lies there nobody knows.`
      : ''
  return `${who} the drill met ${figure(length)} cm of wood that resists${firm.length < facts.segments.length ? ', then wood that does not' : ''}.${open} A trace is silent on strength, and early decay may still resist.`
}

export function describeTrace(facts: TraceFacts): string {
  return `${facts.label}, drilling resistance in ${facts.resistanceUnit} against depth; ${counted(facts.segments.length, 'segment')}. ${traceCaption(facts)} In order: ${spansWords(traceSpans(facts))}.`
}

const CURVE_PX = 96

/**
 * Resistance against depth, the segments under it. Proposed borders are broken and in the accent, with a question mark, until a person
 * accepts them. With `onMoveBorder` each border has a grip for finger, mouse and arrow keys: 0.1 cm a step, 1 cm with shift.
 */
export function TraceChart(
  props: TraceFacts & PictureProps & { onMoveBorder?: (index: number, toCm: number) => void },
) {
  const { depthsCm, resistances, barkCm, segments, state, widthPx = 520, textScale = 1, onMoveBorder } = props
  const prefix = usePrefix()
  const end = endOf(props)
  const left = 34 * textScale
  const x = (cm: number) => left + (cm / end) * (widthPx - left - 18)
  const top = (onMoveBorder ? 30 : 8) + 4
  const base = top + CURVE_PX
  const most = mostOf(resistances)
  const y = (value: number) => base - (Math.max(0, value) / most) * CURVE_PX
  const spans = traceSpans(props)
  const wordsY = base + 22 + 14 * textScale
  const axisY = wordsY + (rowsOf(spans, x, textScale, widthPx) - 1) * 15 * textScale + 8 * textScale
  let curve = ''
  for (let i = 0; i < depthsCm.length; i++)
    curve += `${i ? 'L' : 'M'}${n(x(depthsCm[i]!))} ${n(y(resistances[i]!))}`
  const proposed = state === 'proposed'
  return (
    <Picture
      widthPx={widthPx}
      heightPx={axisY + 20 * textScale}
      says={describeTrace(props)}
      textScale={textScale}
      pressable={!!onMoveBorder}
    >
      <WoodPatterns prefix={prefix} />
      {[0, 0.5, 1].map((share) => (
        <g key={share}>
          <Line
            from={[left, base - share * CURVE_PX]}
            to={[widthPx - 18, base - share * CURVE_PX]}
            tone="rule"
            width={0.7}
          />
          <Words x={left - 5} y={base - share * CURVE_PX + 4} anchor="end" size={11}>
            {figure(most * share, most < 10 ? 1 : 0)}
          </Words>
        </g>
      ))}
      {depthsCm.length > 1 && (
        <>
          <path
            d={`${curve}L${n(x(lastOf(depthsCm)))} ${n(base)}L${n(x(depthsCm[0]!))} ${n(base)}Z`}
            fill="var(--ink)"
            fillOpacity={0.12}
          />
          <path
            data-part="curve"
            d={curve}
            fill="none"
            stroke="var(--ink)"
            strokeWidth={1}
            strokeLinejoin="round"
          />
        </>
      )}
      <SpanStrip spans={spans} x={x} y={base} heightPx={18} prefix={prefix} dashed={proposed} />
      <SpanWords spans={spans} x={x} y={wordsY} textScale={textScale} widthPx={widthPx} asked={proposed} />
      <DepthAxis x={x} y={axisY} toCm={end} textScale={textScale} />
      {segments.slice(0, -1).map((segment, i) => (
        <Border
          key={`${i}-${segments.length}`}
          name={`Border between ${shortName[segment.condition]} and ${shortName[segments[i + 1]!.condition]}`}
          cm={segment.toCm}
          leastCm={Math.max(barkCm, segment.fromCm) + 0.1}
          mostCm={segments[i + 1]!.toCm - 0.1}
          x={x}
          perCm={(widthPx - left - 18) / end}
          top={top - 6}
          base={base + 18}
          proposed={proposed}
          onMove={onMoveBorder && ((to) => onMoveBorder(i, to))}
        />
      ))}
    </Picture>
  )
}

/** The top of the scale: 100 where the instrument gives per cent, else a little over the highest point. */
function mostOf(values: ArrayLike<number>): number {
  let most = 0
  for (let i = 0; i < values.length; i++) if (values[i]! > most) most = values[i]!
  if (most > 50 && most <= 100) return 100
  const power = 10 ** Math.floor(Math.log10(Math.max(most, 1e-6)))
  return Math.max(1e-6, Math.ceil((most / power) * 2) / 2) * power
}

function Border(props: {
  name: string
  cm: number
  leastCm: number
  mostCm: number
  x: (cm: number) => number
  perCm: number
  top: number
  base: number
  proposed: boolean
  onMove?: (toCm: number) => void
}) {
  const { name, cm, leastCm, mostCm, x, perCm, top, base, proposed, onMove } = props
  const [held, setHeld] = useState(false)
  const from = useRef({ clientX: 0, cm: 0, scale: 1 })
  const tone = proposed || held ? 'accent' : 'ink'
  const move = (to: number) => onMove?.(Math.round(Math.min(mostCm, Math.max(leastCm, to)) * 10) / 10)
  const line = (
    <Line
      from={[x(cm), top]}
      to={[x(cm), base]}
      tone={tone}
      width={1.6}
      dash={proposed ? '4 3' : undefined}
    />
  )
  if (!onMove) return <g data-part="border">{line}</g>
  return (
    <g
      data-part="border"
      role="slider"
      tabIndex={0}
      aria-label={name}
      aria-valuemin={Math.round(leastCm * 10) / 10}
      aria-valuemax={Math.round(mostCm * 10) / 10}
      aria-valuenow={Math.round(cm * 10) / 10}
      aria-valuetext={`${figure(cm)} cm`}
      style={{ cursor: 'ew-resize', touchAction: 'none' }}
      onKeyDown={(event) => {
        const by = { ArrowLeft: -0.1, ArrowDown: -0.1, ArrowRight: 0.1, ArrowUp: 0.1 }[event.key]
        if (by === undefined) return
        event.preventDefault()
        move(cm + by * (event.shiftKey ? 10 : 1))
      }}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId)
        const svg = event.currentTarget.ownerSVGElement
        const scale = svg ? svg.viewBox.baseVal.width / svg.getBoundingClientRect().width : 1
        from.current = { clientX: event.clientX, cm, scale }
        setHeld(true)
      }}
      onPointerMove={(event) => {
        if (!held) return
        const { clientX, cm: start, scale } = from.current
        move(start + ((event.clientX - clientX) * scale) / perCm)
      }}
      onPointerUp={() => setHeld(false)}
      onPointerCancel={() => setHeld(false)}
    >
      <rect
        x={n(x(cm) - 14)}
        y={n(top - 26)}
        width={28}
        height={n(Math.max(48, base - top + 26))}
        fill="transparent"
      />
      {line}
      <rect
        x={n(x(cm) - 8)}
        y={n(top - 18)}
        width={16}
        height={18}
        fill="var(--paper)"
        stroke={`var(--${tone})`}
        strokeWidth={2}
      />
      <path
        d={`M${n(x(cm) - 2)} ${n(top - 14)}v10M${n(x(cm) + 2)} ${n(top - 14)}v10`}
        stroke={`var(--${tone})`}
        strokeWidth={1.4}
      />
    </g>
  )
}
