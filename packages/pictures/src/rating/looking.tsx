import { type LookingStep, lookingStepNames, lookingSteps, type StepResult } from '@underbough/model'
import { filled, Patterns } from '../draw/patterns.tsx'
import { Line, Picture, type PictureProps, usePrefix, Words } from '../draw/picture.tsx'
import { counted, figure, fitted, listed } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { stepStateNames } from '../marks/glyphs.ts'

/** One answered step. */
export interface LookedStep {
  step: LookingStep
  result: StepResult
  /** Minutes spent; null where nobody counted. */
  minutes: number | null
  /** What it found, or why it was not seen. */
  found: string
}

const GAP = 4
const NARROW_PX = 560

/** The seven in their order; a step nobody answered stands as not seen. */
const inOrder = (steps: readonly LookedStep[]): LookedStep[] =>
  lookingSteps.map(
    (step) =>
      steps.find((s) => s.step === step) ?? {
        step,
        result: 'not-seen',
        minutes: null,
        found: 'not answered',
      },
  )

/** Seven steps in order, each as wide as its minutes: full where something was found, a line where nothing was, hatched where it was not seen. Narrow: one under the other. */
export function LookingStrip({
  steps,
  widthPx = 640,
  textScale = 1,
}: PictureProps & { steps: readonly LookedStep[] }) {
  const prefix = usePrefix()
  const rows = inOrder(steps)
  const says = describeLooking(steps)
  const narrow = widthPx < NARROW_PX * textScale
  return (
    <Picture
      widthPx={widthPx}
      heightPx={narrow ? rows.length * 44 * textScale : 38 + 30 * textScale}
      says={says}
      textScale={textScale}
    >
      <Patterns prefix={prefix} hatches={['not-seen']} />
      {narrow ? (
        <Rows rows={rows} widthPx={widthPx} prefix={prefix} scale={textScale} />
      ) : (
        <Bars rows={rows} widthPx={widthPx} prefix={prefix} scale={textScale} />
      )}
    </Picture>
  )
}

interface Part {
  rows: LookedStep[]
  widthPx: number
  prefix: string
  scale: number
}

function Bars({ rows, widthPx, prefix, scale }: Part) {
  const least = Math.min(100, widthPx / 9)
  const free = widthPx - GAP * 6 - least * 7 - 1
  const total = rows.reduce((sum, row) => sum + (row.minutes ?? 0), 0)
  let next = 0.5
  const placed = rows.map((row) => {
    const x = next
    const width = least + free * (total > 0 ? (row.minutes ?? 0) / total : 1 / 7)
    next += width + GAP
    return { ...row, x, width }
  })
  const y = 8 + 12 * scale
  return placed.map(({ step, result, minutes, found, x, width }, i) => (
    <g key={step} data-minutes={minutes ?? undefined}>
      <Words x={x} y={12 * scale} tone="ink" firm>
        {i + 1}
      </Words>
      {minutes !== null && (
        <Words x={x + width} y={12 * scale} anchor="end" size={11}>
          {`${figure(minutes, 0)} min`}
        </Words>
      )}
      <Bar x={x} y={y} width={width} result={result} prefix={prefix} />
      <Words x={x} y={y + 16 + 16 * scale} tone="ink" size={11} firm>
        {fitted(lookingStepNames[step], width + 4, 11.5 * scale)}
      </Words>
      <Words x={x} y={y + 16 + 30 * scale} size={11}>
        {fitted(found || stepStateNames[result], width, 11 * scale)}
      </Words>
    </g>
  ))
}

function Rows({ rows, widthPx, prefix, scale }: Part) {
  const most = Math.max(1, ...rows.map((row) => row.minutes ?? 0))
  const barRoom = widthPx * 0.3
  return rows.map(({ step, result, minutes, found }, i) => {
    const y = i * 44 * scale
    const width = 22 + (barRoom - 22) * ((minutes ?? 0) / most)
    return (
      <g key={step}>
        <Words x={0} y={y + 15 * scale} tone="ink" firm>
          {i + 1}
        </Words>
        <Words x={16 * scale} y={y + 15 * scale} tone="ink" firm>
          {lookingStepNames[step]}
        </Words>
        <Words x={16 * scale} y={y + 31 * scale}>
          {fitted(found || stepStateNames[result], widthPx - barRoom - 24 * scale, 12 * scale)}
        </Words>
        <Bar x={widthPx - width - 1} y={y + 4} width={width} result={result} prefix={prefix} />
        {minutes !== null && (
          <Words x={widthPx - 1} y={y + 33 * scale} anchor="end">
            {`${figure(minutes, 0)} min`}
          </Words>
        )}
      </g>
    )
  })
}

function Bar({
  x,
  y,
  width,
  result,
  prefix,
}: {
  x: number
  y: number
  width: number
  result: StepResult
  prefix: string
}) {
  const fill =
    result === 'findings' ? 'var(--ink)' : result === 'not-seen' ? filled(prefix, 'not-seen') : 'var(--leaf)'
  return (
    <>
      <rect
        x={n(x)}
        y={n(y)}
        width={n(width)}
        height={16}
        fill={fill}
        stroke="var(--ink)"
        strokeWidth={1.2}
      />
      {result === 'nothing-found' && <Line from={[x + 4, y + 8]} to={[x + width - 4, y + 8]} width={1.2} />}
    </>
  )
}

/** The sequence in words, every step of it. */
export function describeLooking(steps: readonly LookedStep[]): string {
  const said = inOrder(steps).map(({ step, result, minutes, found }, i) => {
    const time = minutes === null ? '' : `, ${figure(minutes, 0)} min`
    const what = found && found !== stepStateNames[result] ? `: ${found}` : ''
    return `${i + 1} ${lookingStepNames[step]}, ${stepStateNames[result]}${what}${time}`
  })
  return `Looking sequence, seven steps. ${said.join('. ')}.`
}

/** One plain sentence for under the strip. */
export function lookingCaption(steps: readonly LookedStep[]): string {
  const rows = inOrder(steps)
  const minutes = rows.reduce((sum, row) => sum + (row.minutes ?? 0), 0)
  const unseen = rows
    .filter((row) => row.result === 'not-seen')
    .map((row) => lookingStepNames[row.step].toLowerCase())
  const found = rows.filter((row) => row.result === 'findings').length
  const left = unseen.length > 0 ? `; not seen: ${listed(unseen)}` : '; every step was seen'
  return `${minutes > 0 ? `${counted(Math.round(minutes), 'minute')}, ` : ''}something found at ${found} of 7 steps${left}.`
}
