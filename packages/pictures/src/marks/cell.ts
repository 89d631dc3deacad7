import { type RiskWord, riskWords } from '@underbough/model'
import { polar } from '../draw/geometry.ts'
import { circle, n, path, type Shape, shape } from '../draw/shape.ts'
import { type Paint, riskToken } from '../palette/paint.ts'

/** Many trees in one cell of the map: a cut disc. Counts of trees. */
export interface CellMarkSpec {
  counts: Readonly<Record<RiskWord, number>>
  /** Trees without a closed rating: the outermost, pale ring. */
  unrated?: number
  overdue: number
  /** The count written under the disc; false where the map writes it. */
  label?: boolean
}

/** A ring so thin that it would not be seen is drawn this wide, px. */
export const leastRingPx = 2.6
const LEAST_RADIUS_PX = 11
const GREATEST_RADIUS_PX = 26
const CUT_PX = 2
const CUT_EVERY_PX = 5.6

export const cellTotal = (spec: CellMarkSpec): number =>
  riskWords.reduce((sum, word) => sum + spec.counts[word], spec.unrated ?? 0)

/** Radius of the disc, px: grows with the root of the count. */
export const cellRadiusPx = (total: number): number =>
  Math.max(LEAST_RADIUS_PX, Math.min(GREATEST_RADIUS_PX, 6.5 + 1.7 * Math.sqrt(total)))

const ringsOf = (spec: CellMarkSpec): { risk: RiskWord | null; count: number }[] =>
  [...[...riskWords].reverse(), null]
    .map((risk) => ({ risk, count: risk === null ? (spec.unrated ?? 0) : spec.counts[risk] }))
    .filter(({ count }) => count > 0)

/** Radius of this cell's disc, px: wide enough for each of its rings. */
export const discRadiusPx = (spec: CellMarkSpec): number =>
  Math.max(cellRadiusPx(cellTotal(spec)), leastRingPx * ringsOf(spec).length)

/** Outer radii from the heart (extreme) outwards, px: areas follow the counts; what a thin ring is given the wide ones give up. */
export function cellRings(spec: CellMarkSpec): { risk: RiskWord | null; outerPx: number }[] {
  const rings = ringsOf(spec)
  const total = cellTotal(spec)
  const radius = discRadiusPx(spec)
  let counted = 0
  const widths = rings.map(({ count }) => {
    const inner = Math.sqrt(counted / total)
    counted += count
    return Math.max(leastRingPx, radius * (Math.sqrt(counted / total) - inner))
  })
  const spare = widths.reduce((sum, width) => sum + width - leastRingPx, 0)
  const share = spare > 0 ? (radius - leastRingPx * rings.length) / spare : 0
  let outerPx = 0
  return rings.map(({ risk }, i) => {
    outerPx += leastRingPx + (widths[i]! - leastRingPx) * share
    return { risk, outerPx }
  })
}

/** The disc about the origin. The saw-cuts, clockwise from north, reach as far as the share overdue. */
export function cellShapes(spec: CellMarkSpec, paint: Paint): Shape[] {
  const total = cellTotal(spec)
  const radius = discRadiusPx(spec)
  const shapes: Shape[] = [circle(radius + 2, { fill: paint('paper') })]
  for (const { risk, outerPx } of cellRings(spec).reverse())
    shapes.push(
      risk === null
        ? circle(outerPx - 0.6, { fill: paint('sunk'), stroke: paint('ink-3'), 'stroke-width': 1.2 })
        : circle(outerPx, { fill: paint(riskToken(risk)), stroke: paint('paper'), 'stroke-width': 1.1 }),
    )
  if (total > 0 && spec.overdue > 0)
    shapes.push(...overdueCuts(Math.min(1, spec.overdue / total), radius, paint))
  if (spec.label !== false) shapes.push(countLabel(total, radius, paint))
  return shapes
}

/** Saw-cuts, as a single tree has one: from north clockwise as far as the share overdue, at even distances along the rim. */
function overdueCuts(share: number, radius: number, paint: Paint): Shape[] {
  const span = 360 * share
  const cuts = Math.max(1, Math.round((2 * Math.PI * radius * share) / CUT_EVERY_PX))
  const d = Array.from({ length: cuts }, (_, i) => {
    const at = (span * (i + 0.5)) / cuts
    return `M${polar(0, 0, radius * 0.34, at)
      .map(n)
      .join(' ')}L${polar(0, 0, radius + 2, at)
      .map(n)
      .join(' ')}`
  })
  return [path(d.join(''), { stroke: paint('paper'), 'stroke-width': CUT_PX })]
}

const countLabel = (total: number, radius: number, paint: Paint): Shape =>
  shape(
    'text',
    {
      x: 0,
      y: radius + 12,
      'text-anchor': 'middle',
      'font-family': 'Source Sans 3, sans-serif',
      'font-size': 11.5,
      'font-weight': 600,
      fill: paint('ink'),
      stroke: paint('paper'),
      'stroke-width': 3,
      'stroke-linejoin': 'round',
      'paint-order': 'stroke',
    },
    [String(total)],
  )

/** What a cell says, in words. */
export function describeCellMark(spec: CellMarkSpec): string {
  const total = cellTotal(spec)
  const parts = [...riskWords]
    .reverse()
    .filter((word) => spec.counts[word] > 0)
    .map((word) => `${spec.counts[word]} ${word}`)
  if (spec.unrated) parts.push(`${spec.unrated} not rated`)
  const late = spec.overdue > 0 ? `; ${spec.overdue} overdue` : ''
  return `${total} ${total === 1 ? 'tree' : 'trees'}: ${parts.join(', ')}${late}`
}
