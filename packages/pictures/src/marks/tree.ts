import { type RiskWord, rank, riskWords, type TreeStatus } from '@underbough/model'
import { arcPath, degrees } from '../draw/geometry.ts'
import { circle, group, n, path, type Shape, shape } from '../draw/shape.ts'
import { type Paint, riskToken } from '../palette/paint.ts'

/** A tree as the map shows it. */
export interface TreeMarkSpec {
  /** One to four rings; null while no rating is closed. */
  risk: RiskWord | null
  /** A saw-cut through the rings. */
  overdue?: boolean
  /** Without a pith where false: due on its baseline date. */
  visited?: boolean
  status?: TreeStatus
  /** Held in the jaws of a calliper. */
  selected?: boolean
  /** Outside the brushed weeks: a dot. */
  outside?: boolean
}

/** Radii of the rings at full size, px; what matters more is larger. */
export const ringRadiiPx = [4, 6.7, 9.4, 12.1] as const
const LINE_PX = 1.75
/** The disc of paper under a mark, beyond its outer ring: contrast never depends on the map below. */
const MARGIN_PX = 2.1
const STUMP_PX = 6
const CUT_BEARING_DEG = 45

export const ringCount = (risk: RiskWord | null): number => (risk === null ? 1 : rank(riskWords, risk) + 1)

/** Outer radius of the mark and its paper, without the calliper, px. */
export function treeMarkRadiusPx(spec: TreeMarkSpec): number {
  if (spec.outside) return 2
  if (spec.status === 'gone' || spec.status === 'stump') return STUMP_PX
  return ringRadiiPx[ringCount(spec.risk) - 1]! + MARGIN_PX
}

/** Half the side of the square that holds the mark, centred on the tree, whole px. */
export function treeMarkHalfPx(spec: TreeMarkSpec): number {
  const r = treeMarkRadiusPx(spec)
  return Math.ceil(spec.selected ? jawRadius(spec) + 14 : r + 0.5)
}

const jawRadius = (spec: TreeMarkSpec) =>
  spec.status === 'gone' || spec.status === 'stump' ? STUMP_PX : ringRadiiPx[ringCount(spec.risk) - 1]! + 1

/** The mark about the origin, y downwards. */
export function treeShapes(spec: TreeMarkSpec, paint: Paint): Shape[] {
  if (spec.outside) return [circle(2, { fill: paint('ink-3'), opacity: 0.75 })]
  const body =
    spec.status === 'gone'
      ? goneShapes(paint)
      : spec.status === 'stump'
        ? stumpShapes(paint)
        : standingShapes(spec, paint)
  return spec.selected ? [...body, ...jaws(jawRadius(spec), paint)] : body
}

/** A disc cut in four. */
function goneShapes(paint: Paint): Shape[] {
  const r = 5
  const gap = 1
  const side = Math.sqrt(r * r - gap * gap)
  const quarter = `M${gap} ${-gap}V${n(-side)}A${r} ${r} 0 0 1 ${n(side)} ${-gap}Z`
  return [
    circle(STUMP_PX, { fill: paint('paper') }),
    ...[20, 110, 200, 290].map((turn) =>
      path(quarter, { fill: paint('ink-3'), transform: `rotate(${turn})` }),
    ),
  ]
}

const stumpShapes = (paint: Paint): Shape[] => [
  circle(STUMP_PX, { fill: paint('paper') }),
  circle(4.4, { fill: paint('ink-3') }),
  circle(1.5, { fill: paint('paper') }),
]

function standingShapes(spec: TreeMarkSpec, paint: Paint): Shape[] {
  const colour = paint(riskToken(spec.risk))
  const rings = ringCount(spec.risk)
  const outer = ringRadiiPx[rings - 1]!
  const cut = spec.overdue ? 3.6 + rings * 0.45 : 0
  const shapes = [
    circle(outer + MARGIN_PX, { fill: paint('paper') }),
    circle(outer, { fill: colour, opacity: 0.13 }),
  ]
  if (cut > 0) {
    const end = (outer + MARGIN_PX) * Math.SQRT1_2
    shapes.push(path(`M0 0L${n(end)} ${n(-end)}`, { stroke: paint('paper'), 'stroke-width': cut - 1.4 }))
  }
  for (const r of ringRadiiPx.slice(0, rings)) shapes.push(...ringShapes(r, cut, spec, colour))
  return [...shapes, ...pithShapes(spec, colour, paint)]
}

/** One ring: whole, cut, dotted (never visited, not rated) or unfinished (visited, rating not closed). */
function ringShapes(r: number, cutPx: number, spec: TreeMarkSpec, colour: string): Shape[] {
  const line = { fill: 'none', stroke: colour, 'stroke-width': LINE_PX }
  const half = cutPx > 0 ? degrees(Math.asin(Math.min(0.95, cutPx / 2 / r))) : 0
  const [from, to] = [CUT_BEARING_DEG + half, CUT_BEARING_DEG - half]
  if (spec.risk === null && spec.visited === false) {
    const dots = { ...line, 'stroke-dasharray': '2.1 2.09' }
    return cutPx > 0 ? [path(arcPath(0, 0, r, from, to), dots)] : [circle(r, dots)]
  }
  if (spec.risk === null)
    return cutPx > 0
      ? [path(arcPath(0, 0, r, from, 255), line), path(arcPath(0, 0, r, 315, to), line)]
      : [path(arcPath(0, 0, r, 90, 270), line)]
  return cutPx > 0 ? [path(arcPath(0, 0, r, from, to), line)] : [circle(r, line)]
}

function pithShapes(spec: TreeMarkSpec, colour: string, paint: Paint): Shape[] {
  if (spec.visited === false) return [circle(2.1, { fill: paint('paper') })]
  if (spec.status === 'pole')
    return [shape('rect', { x: -1.7, y: -1.7, width: 3.4, height: 3.4, fill: colour })]
  return [circle(LINE_PX, { fill: colour })]
}

function jaws(r: number, paint: Paint): Shape[] {
  const reach = r + 3.6
  const top = -r * 0.5
  const foot = r + 4
  const d = `M${n(-reach)} ${n(top)}V${n(foot)}M${n(reach)} ${n(top)}V${n(foot)}M${n(-reach - 3)} ${n(foot)}H${n(reach + 8)}`
  const line = (colour: string, width: number) =>
    path(d, { stroke: colour, 'stroke-width': width, 'stroke-linecap': 'square' })
  return [group({}, [line(paint('paper'), 5), line(paint('accent'), 2.4)])]
}

/** What a mark says, in words. */
export function describeTreeMark(spec: TreeMarkSpec): string {
  if (spec.outside) return 'Tree outside the weeks chosen'
  if (spec.status === 'gone') return 'Gone'
  if (spec.status === 'stump') return 'Stump'
  const parts = [spec.risk === null ? 'not rated' : `${spec.risk} risk`]
  if (spec.status === 'pole') parts.push('pole')
  if (spec.visited === false) parts.push('never visited')
  else if (spec.risk === null) parts[0] = 'rating not closed'
  if (spec.overdue) parts.push('overdue')
  if (spec.selected) parts.push('chosen')
  const sentence = parts.join(', ')
  return sentence.charAt(0).toUpperCase() + sentence.slice(1)
}
