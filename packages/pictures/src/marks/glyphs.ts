import type { StepResult } from '@underbough/model'
import { n, path, type Shape, shape } from '../draw/shape.ts'
import type { Paint } from '../palette/paint.ts'

export const keepings = ['not-kept', 'on-this-phone', 'in-the-office'] as const
/** Where an entry is: dashed corner, corner, corner with square. */
export type Keeping = (typeof keepings)[number]
export const keepingNames: Readonly<Record<Keeping, string>> = {
  'not-kept': 'Not kept yet',
  'on-this-phone': 'On this phone',
  'in-the-office': 'At the office',
}

export const keepingGlyphPx = 14

/** The glyph in a square of `keepingGlyphPx`, top left at the origin. */
export function keepingShapes(keeping: Keeping, paint: Paint): Shape[] {
  const side = keepingGlyphPx
  const colour = paint(keeping === 'not-kept' ? 'mind' : 'kept')
  const corner = path(`M1 ${side - 1}V1H${side - 1}`, {
    stroke: colour,
    'stroke-width': 1.6,
    'stroke-dasharray': keeping === 'not-kept' ? '2.6 2' : undefined,
  })
  return keeping === 'in-the-office'
    ? [corner, shape('rect', { x: 4, y: 4, width: side - 5, height: side - 5, fill: colour })]
    : [corner]
}

/** Where a step of the looking sequence stands: its result, or still to come, or being answered. */
export type StepState = StepResult | 'to-come' | 'now'
export const stepStateNames: Readonly<Record<StepState, string>> = {
  'nothing-found': 'nothing found',
  findings: 'found',
  'not-seen': 'not seen',
  'to-come': 'to come',
  now: 'now',
}

/** One step as a bar, top left at the origin: full where something was found, a line where nothing was, hatched where it was not seen. */
export function stepShapes(state: StepState, widthPx: number, heightPx: number, paint: Paint): Shape[] {
  const ink = paint(state === 'now' ? 'accent' : state === 'to-come' ? 'edge' : 'ink')
  const fill = state === 'findings' || state === 'now' ? ink : state === 'to-come' ? 'none' : paint('leaf')
  const bar = { x: 0.7, y: 0.7, width: widthPx - 1.4, height: heightPx - 1.4 }
  const shapes: Shape[] = [shape('rect', { ...bar, fill, stroke: ink, 'stroke-width': 1.4 })]
  const inset = Math.min(4.5, widthPx / 5)
  if (state === 'nothing-found')
    shapes.push(
      path(`M${n(inset)} ${n(heightPx / 2)}H${n(widthPx - inset)}`, { stroke: ink, 'stroke-width': 1.4 }),
    )
  if (state === 'not-seen') shapes.push(path(hatch(widthPx, heightPx), { stroke: ink, 'stroke-width': 0.9 }))
  return shapes
}

/** Strokes at 45° inside a bar. Drawn, not a pattern: a glyph has to stand alone. */
function hatch(width: number, height: number): string {
  const [left, top, right, foot] = [1.4, 1.4, width - 1.4, height - 1.4]
  let d = ''
  for (let start = left - (foot - top) + 3; start < right; start += 4.2) {
    const x0 = Math.max(start, left)
    const x1 = Math.min(start + (foot - top), right)
    if (x1 > x0) d += `M${n(x0)} ${n(foot - (x0 - start))}L${n(x1)} ${n(foot - (x1 - start))}`
  }
  return d
}
