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

export const cellTotal = (spec: CellMarkSpec): number =>
  riskWords.reduce((sum, word) => sum + spec.counts[word], spec.unrated ?? 0)

/** Radius of the disc, px: grows with the root of the count. */
export const cellRadiusPx = (total: number): number =>
  Math.max(LEAST_RADIUS_PX, Math.min(GREATEST_RADIUS_PX, 6.5 + 1.7 * Math.sqrt(total)))

/** Outer radii from the heart (extreme) outwards, px: areas follow the counts, save for the least width of a ring. */
export function cellRings(spec: CellMarkSpec): { risk: RiskWord | null; outerPx: number }[] {
  const total = cellTotal(spec)
  const radius = cellRadiusPx(total)
  const rings: { risk: RiskWord | null; outerPx: number }[] = []
  let counted = 0
  for (const risk of [...[...riskWords].reverse(), null]) {
    const count = risk === null ? (spec.unrated ?? 0) : spec.counts[risk]
    if (count <= 0) continue
    counted += count
    const inner = rings.at(-1)?.outerPx ?? 0
    rings.push({ risk, outerPx: Math.max(radius * Math.sqrt(counted / total), inner + leastRingPx) })
  }
  const shrink = radius / (rings.at(-1)?.outerPx ?? radius)
  return rings.map((ring) => ({ ...ring, outerPx: ring.outerPx * shrink }))
}

/** The disc about the origin. The pale sector, clockwise from north, is the share overdue. */
export function cellShapes(spec: CellMarkSpec, paint: Paint): Shape[] {
  const total = cellTotal(spec)
  const radius = cellRadiusPx(total)
  const shapes: Shape[] = [circle(radius + 2, { fill: paint('paper') })]
  for (const { risk, outerPx } of cellRings(spec).reverse())
    shapes.push(
      risk === null
        ? circle(outerPx - 0.6, { fill: paint('sunk'), stroke: paint('ink-3'), 'stroke-width': 1.2 })
        : circle(outerPx, { fill: paint(riskToken(risk)), stroke: paint('paper'), 'stroke-width': 1.1 }),
    )
  if (total > 0 && spec.overdue > 0)
    shapes.push(...overdueSector(Math.min(1, spec.overdue / total), radius, paint))
  if (spec.label !== false) shapes.push(countLabel(total, radius, paint))
  return shapes
}

function overdueSector(share: number, radius: number, paint: Paint): Shape[] {
  const r = radius + 0.4
  const veil = { fill: paint('paper'), opacity: 0.62 }
  if (share >= 0.999)
    return [circle(r, veil), path(`M0 ${n(-radius)}V0`, { stroke: paint('paper'), 'stroke-width': 1.4 })]
  const [x, y] = polar(0, 0, r, 360 * share)
  return [
    path(`M0 0V${n(-r)}A${n(r)} ${n(r)} 0 ${share > 0.5 ? 1 : 0} 1 ${n(x)} ${n(y)}Z`, veil),
    path(`M0 ${n(-radius)}V0L${n(x)} ${n(y)}`, { stroke: paint('paper'), 'stroke-width': 1.4 }),
  ]
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
