import { type ExposureFlag, flag } from './flags.ts'
import { meanPeople } from './occupancy.ts'
import { contains, type ZoneAround, type ZoneRings } from './zone.ts'

/** How the zones of one tree share their people, so that nobody is counted twice. */
export interface Nesting {
  /** For each zone, the places of the zones cut out of it: the smallest zone that holds a zone is cut. */
  inside: number[][]
  /** For each zone, the zones whose people are among its own and are taken off them. */
  parts: number[][]
  flags: ExposureFlag[]
}

/**
 * The most specific zone wins: where one zone lies within another, people there are counted with the inner one, and the
 * outer one's people are spread over what remains. `partOf` says besides that the inner one's people are among the
 * outer's. Two zones that overlap in any other way count people twice, and are flagged. A zone that nobody is ever in
 * takes no part, nor do two that the tree does not touch.
 */
export function nestingOf(
  zones: readonly ZoneAround[],
  rings: readonly ZoneRings[],
  touched: readonly boolean[],
): Nesting {
  const nesting: Nesting = { inside: zones.map(() => []), parts: zones.map(() => []), flags: [] }
  const peopled = zones.map((zone, i) => meanPeople(zone.hours) > 0 && rings[i]!.areaM2 > 0)
  const outer: (number | undefined)[] = zones.map(() => undefined)
  for (let a = 0; a < zones.length; a++)
    for (let b = a + 1; b < zones.length; b++) {
      if (!peopled[a] || !peopled[b] || !(touched[a] || touched[b])) continue
      if (!boundsMeet(rings[a]!, rings[b]!)) continue
      const [large, small] = zones[a]!.areaM2 >= zones[b]!.areaM2 ? [a, b] : [b, a]
      const declared = zones[small]!.partOf === zones[large]!.id
      if (lies(rings[small]!, rings[large]!)) {
        const known = outer[small]
        if (known === undefined || zones[large]!.areaM2 < zones[known]!.areaM2) outer[small] = large
        if (declared) nesting.parts[large]!.push(small)
      } else if (declared) nesting.flags.push(flag('part-outside', zones[small]!.id, zones[large]!.id))
      else if (overlap(rings[a]!, rings[b]!))
        nesting.flags.push(flag('zones-overlap', zones[a]!.id, zones[b]!.id))
    }
  outer.forEach((large, small) => {
    if (large !== undefined) nesting.inside[large]!.push(small)
  })
  return nesting
}

function boundsMeet(a: ZoneRings, b: ZoneRings): boolean {
  return a.minX < b.maxX && b.minX < a.maxX && a.minY < b.maxY && b.minY < a.maxY
}

/** Whether the first lies within the second: their lines do not cross, no corner of it is outside, and its middle is inside. */
function lies(small: ZoneRings, large: ZoneRings): boolean {
  if (small.areaM2 >= large.areaM2 || linesCross(small, large)) return false
  return insideOrOn(small, large) && holds(large, ...placeWithin(small)) && !reachesInto(large, small)
}

const holds = ({ x, y, starts }: ZoneRings, px: number, py: number) => contains(x, y, starts, px, py)

const insideOrOn = (small: ZoneRings, large: ZoneRings) =>
  everyPoint(small, (x, y) => holds(large, x, y) || onLine(large, x, y))

/** Whether a corner of one lies clean inside the other: of a hole, say, in the middle of a smaller zone. */
const reachesInto = (one: ZoneRings, other: ZoneRings) =>
  !everyPoint(one, (x, y) => !holds(other, x, y) || onLine(other, x, y))

function overlap(a: ZoneRings, b: ZoneRings): boolean {
  if (linesCross(a, b) || reachesInto(a, b) || reachesInto(b, a)) return true
  return holds(a, ...placeWithin(b)) || holds(b, ...placeWithin(a))
}

/** A place inside a zone: the middle of the widest stretch of a level line that passes through no corner. */
function placeWithin({ x, y, starts }: ZoneRings): [number, number] {
  const levels = [...new Set(y)].sort((a, b) => a - b)
  const half = Math.floor((levels.length - 1) / 2)
  const level = (levels[half]! + levels[half + 1]!) / 2
  const crossings: number[] = []
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++)
      if (y[i]! > level !== y[i + 1]! > level)
        crossings.push(x[i]! + ((level - y[i]!) / (y[i + 1]! - y[i]!)) * (x[i + 1]! - x[i]!))
  crossings.sort((a, b) => a - b)
  let widest = 0
  for (let i = 0; i + 1 < crossings.length; i += 2)
    if (crossings[i + 1]! - crossings[i]! > crossings[widest + 1]! - crossings[widest]!) widest = i
  return [(crossings[widest]! + crossings[widest + 1]!) / 2, level]
}

function everyPoint({ x, y, starts }: ZoneRings, test: (x: number, y: number) => boolean): boolean {
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      if (!test(x[i]!, y[i]!)) return false
      if (!test((x[i]! + x[i + 1]!) / 2, (y[i]! + y[i + 1]!) / 2)) return false
    }
  return true
}

const ON_LINE_M = 1e-3

function onLine(zone: ZoneRings, px: number, py: number): boolean {
  return someEdge(zone, (x0, y0, x1, y1) => {
    const dx = x1 - x0
    const dy = y1 - y0
    const squared = dx * dx + dy * dy
    const t = squared === 0 ? 0 : Math.min(1, Math.max(0, ((px - x0) * dx + (py - y0) * dy) / squared))
    return Math.hypot(px - x0 - t * dx, py - y0 - t * dy) <= ON_LINE_M
  })
}

/** Whether an edge of one passes clean through an edge of the other, by more than the millimetre that drawing leaves. */
function linesCross(a: ZoneRings, b: ZoneRings): boolean {
  return someEdge(a, (ax, ay, bx, by) =>
    someEdge(b, (cx, cy, dx, dy) => {
      const length = Math.hypot(dx - cx, dy - cy)
      const other = Math.hypot(bx - ax, by - ay)
      const side = (px: number, py: number) => ((dx - cx) * (py - cy) - (dy - cy) * (px - cx)) / length
      const across = (px: number, py: number) => ((bx - ax) * (py - ay) - (by - ay) * (px - ax)) / other
      return opposite(side(ax, ay), side(bx, by)) && opposite(across(cx, cy), across(dx, dy))
    }),
  )
}

const opposite = (one: number, two: number) =>
  (one > ON_LINE_M && two < -ON_LINE_M) || (one < -ON_LINE_M && two > ON_LINE_M)

function someEdge(
  { x, y, starts }: ZoneRings,
  test: (x0: number, y0: number, x1: number, y1: number) => boolean,
): boolean {
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++)
      if (test(x[i]!, y[i]!, x[i + 1]!, y[i + 1]!)) return true
  return false
}
