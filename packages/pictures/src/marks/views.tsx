import { type LookingStep, lookingStepNames, type ZoneKind } from '@underbough/model'
import { n, type Shape } from '../draw/shape.ts'
import { Shapes } from '../draw/shape-view.tsx'
import { cssPaint } from '../palette/paint.ts'
import { crewLineShapes } from './crews.ts'
import {
  type Keeping,
  keepingGlyphPx,
  keepingNames,
  keepingShapes,
  type StepState,
  stepShapes,
  stepStateNames,
} from './glyphs.ts'
import { type MarkSpec, placeMark } from './mark.ts'
import { zoneLines, zoneNames, zoneTilePx, zoneTileShapes } from './zones.ts'

interface Seen {
  /** Beside a word that says the same, a mark is hidden from those who listen. */
  hidden?: boolean
  /** Side or height on the page, px; the mark's own box when not given. */
  sizePx?: number
}

const voice = (says: string, hidden = false) =>
  hidden ? ({ 'aria-hidden': true } as const) : ({ role: 'img', 'aria-label': says } as const)

/** A tree's mark, a cell's or a tag, in the page's colours. */
export function Mark({ hidden, sizePx, ...spec }: MarkSpec & Seen) {
  const { shapes, box, says } = placeMark(spec, cssPaint)
  const grow = sizePx === undefined ? 1 : sizePx / box[3]
  return (
    <svg
      viewBox={box.map(n).join(' ')}
      width={n(box[2] * grow)}
      height={n(box[3] * grow)}
      {...voice(says, hidden)}
    >
      <Shapes of={shapes} />
    </svg>
  )
}

/** A tree's mark. In a column of marks pass one `boxPx`, so that their centres line up and their sizes keep their meaning. */
export function TreeMark({
  boxPx,
  hidden,
  ...spec
}: Omit<MarkSpec & { mark: 'tree' }, 'mark'> & { boxPx?: number; hidden?: boolean }) {
  const { shapes, box, says } = placeMark({ mark: 'tree', ...spec }, cssPaint)
  const side = boxPx ?? box[2]
  return (
    <svg
      viewBox={`${n(-side / 2)} ${n(-side / 2)} ${n(side)} ${n(side)}`}
      width={n(side)}
      height={n(side)}
      {...voice(says, hidden)}
    >
      <Shapes of={shapes} />
    </svg>
  )
}

/** A swatch of a zone for a key: its tile repeated, drawn out so that no pattern has to be named. */
export function ZoneSwatch({
  kind,
  widthPx = 28,
  heightPx = 16,
  hidden,
}: {
  kind: ZoneKind
  widthPx?: number
  heightPx?: number
  hidden?: boolean
}) {
  const { widthPx: stroke, dashPx } = zoneLines[kind]
  const across = Math.ceil(widthPx / zoneTilePx)
  const tiles = Array.from(
    { length: across * Math.ceil(heightPx / zoneTilePx) },
    (_, i): Shape => ({
      tag: 'g',
      at: { transform: `translate(${(i % across) * zoneTilePx} ${Math.floor(i / across) * zoneTilePx})` },
      inside: zoneTileShapes(kind, cssPaint),
    }),
  )
  return (
    <svg
      viewBox={`-1 -1 ${widthPx + 2} ${heightPx + 2}`}
      width={widthPx + 2}
      height={heightPx + 2}
      {...voice(zoneNames[kind], hidden)}
    >
      <svg x={0} y={0} width={widthPx} height={heightPx} overflow="hidden">
        <Shapes of={tiles} />
      </svg>
      {kind === 'road' && (
        <path d={`M0 ${heightPx / 2}H${widthPx}`} stroke="var(--zone-ink)" strokeDasharray="5 4" />
      )}
      <rect
        width={widthPx}
        height={heightPx}
        fill="none"
        stroke="var(--zone-ink)"
        strokeWidth={stroke}
        strokeDasharray={dashPx.join(' ') || undefined}
      />
    </svg>
  )
}

/** A short length of a crew's line, for a key. */
export function CrewLineSample({
  letter,
  widthPx = 28,
  hidden,
}: {
  letter: string
  widthPx?: number
  hidden?: boolean
}) {
  return (
    <svg viewBox={`0 0 ${widthPx} 10`} width={widthPx} height={10} {...voice(`Crew ${letter}`, hidden)}>
      <Shapes of={crewLineShapes(`M1 5H${widthPx - 1}`, letter, cssPaint, 2.4)} />
    </svg>
  )
}

/** A crew's way running down beside a list, as high as what it stands in. Says nothing: the list does. */
export function CrewWay({ letter, widthPx = 12 }: { letter: string; widthPx?: number }) {
  return (
    <svg width={widthPx} height="100%" aria-hidden="true" focusable="false">
      <Shapes of={crewLineShapes(`M${widthPx / 2} 0V4000`, letter, cssPaint, 3)} />
    </svg>
  )
}

/** Where an entry is kept. */
export function KeepingGlyph({ keeping, sizePx = keepingGlyphPx, hidden }: { keeping: Keeping } & Seen) {
  return (
    <svg
      viewBox={`0 0 ${keepingGlyphPx} ${keepingGlyphPx}`}
      width={sizePx}
      height={sizePx}
      {...voice(keepingNames[keeping], hidden)}
    >
      <Shapes of={keepingShapes(keeping, cssPaint)} />
    </svg>
  )
}

/** One step of the looking sequence as a bar. */
export function StepGlyph({
  state,
  step,
  widthPx = 24,
  heightPx = 16,
  hidden,
}: {
  state: StepState
  step?: LookingStep
  widthPx?: number
  heightPx?: number
  hidden?: boolean
}) {
  const says = step ? `${lookingStepNames[step]}: ${stepStateNames[state]}` : stepStateNames[state]
  return (
    <svg
      viewBox={`0 0 ${n(widthPx)} ${n(heightPx)}`}
      width={widthPx}
      height={heightPx}
      {...voice(says, hidden)}
    >
      <Shapes of={stepShapes(state, widthPx, heightPx, cssPaint)} />
    </svg>
  )
}
