import type { Fall } from './fall.ts'
import { type ExposureFlag, flag } from './flags.ts'
import type { ZoneRings } from './kernel/rings.ts'
import type { Target } from './kernel/target.ts'
import { type HourClass, hourClasses, meanPeople, peopleBySlot, slotsOf, weightsBySlot } from './occupancy.ts'
import { chanceOfAny } from './presence.ts'
import { contains, type ZoneAround } from './zone.ts'

/** How two zones lie to one another, the larger first. */
type Relation = 'apart' | 'within' | 'across'

/** What is known of pairs of zones already, for trees that share them. Keys are the caller's. */
export interface KnownPairs {
  relations: Map<number, Relation>
  key(one: ZoneAround, other: ZoneAround): number
}

/**
 * Sets for each target which zones are cut out of it, and what people are its own. The most specific zone wins: where one
 * zone lies within another, people there are counted with the inner one, and the outer one's people are spread over what
 * remains. `partOf` says besides that the inner one's people are among the outer's. Two zones that overlap in any other way
 * count people twice, and are flagged. A zone that nobody is ever in takes no part, nor do two that the tree does not touch.
 */
export function nest(
  fall: Fall,
  targets: readonly Target[],
  count: number,
  flags: ExposureFlag[],
  known?: KnownPairs,
): void {
  for (let t = 0; t < count; t++) {
    const target = targets[t]!
    target.inside.length = 0
    target.parts.length = 0
    target.hours = target.zone.hours
    target.people = target.rings.areaM2 > 0 ? meanPeople(target.hours) : 0
  }
  for (let a = 0; a < count; a++)
    for (let b = a + 1; b < count; b++) {
      const one = targets[a]!
      const other = targets[b]!
      if (one.people === 0 || other.people === 0 || !boundsMeet(one.rings, other.rings)) continue
      if (one.arcs.length === 0 && other.arcs.length === 0) continue
      const larger = one.zone.areaM2 >= other.zone.areaM2 ? a : b
      relate(targets, larger, a + b - larger, flags, known)
    }
  for (let t = 0; t < count; t++) {
    const { within } = targets[t]!
    if (within >= 0) targets[within]!.inside.push(t)
  }
  for (let t = 0; t < count; t++) spread(fall, targets, targets[t]!, flags)
}

function relate(
  targets: readonly Target[],
  large: number,
  small: number,
  flags: ExposureFlag[],
  known: KnownPairs | undefined,
): void {
  const outer = targets[large]!
  const inner = targets[small]!
  const key = known?.key(outer.zone, inner.zone)
  let relation = key === undefined ? undefined : known!.relations.get(key)
  if (relation === undefined) {
    relation = relationOf(inner.rings, outer.rings)
    if (key !== undefined) known!.relations.set(key, relation)
  }
  const declared = inner.zone.partOf === outer.zone.id
  if (relation === 'within') {
    const before = inner.within
    if (before < 0 || outer.zone.areaM2 < targets[before]!.zone.areaM2) inner.within = large
    if (declared) outer.parts.push(small)
  } else if (declared) flags.push(flag('part-outside', inner.zone.id, outer.zone.id))
  else if (relation === 'across')
    flags.push(
      small > large
        ? flag('zones-overlap', outer.zone.id, inner.zone.id)
        : flag('zones-overlap', inner.zone.id, outer.zone.id),
    )
}

/** Spreads a zone's own people over its own ground. */
function spread(fall: Fall, targets: readonly Target[], target: Target, flags: ExposureFlag[]): void {
  const { zone } = target
  if (target.parts.length > 0) {
    const left = peopleLeft(
      zone,
      target.parts.map((t) => targets[t]!.zone),
    )
    target.hours = left.hours
    if (left.short) flags.push(flag('part-holds-more', zone.id))
    target.people = meanPeople(left.hours)
  }
  let own = target.groundM2
  for (const t of target.inside) own -= targets[t]!.groundM2
  const underRoof = zone.shelter ? fall.policy.shelter.penetration[fall.part] : 1
  target.groupSize = zone.groupSize ?? 1
  if (own > 0 && underRoof > 0) target.peopledM2 = own / underRoof
  else target.people = 0
  target.chance = chanceOfAny(target.hours, target.groupSize)
}

function peopleLeft(zone: ZoneAround, parts: readonly ZoneAround[]): { hours: HourClass[]; short: boolean } {
  const slots = slotsOf([zone.hours, ...parts.map((part) => part.hours)])
  const people = peopleBySlot(zone.hours, slots)
  for (const part of parts)
    peopleBySlot(part.hours, slots).forEach((count, slot) => {
      people[slot]! -= count
    })
  const short = people.some((count) => count < -1e-9)
  return {
    hours: hourClasses(
      people.map((count) => Math.max(0, count)),
      weightsBySlot(zone.hours, slots),
    ),
    short,
  }
}

function relationOf(small: ZoneRings, large: ZoneRings): Relation {
  if (lies(small, large)) return 'within'
  return overlap(small, large) ? 'across' : 'apart'
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
  const levels = [...new Set(y.subarray(0, starts[starts.length - 1]))].sort((a, b) => a - b)
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
