import { type Arc, arcsByTrial, flatArcs } from '../arcs.ts'
import { type Fall, reachAtM } from '../fall.ts'
import { planShare } from '../slope.ts'
import { type Overlap, overlapAt } from './area.ts'
import { contactEvents, flatTouching, TOUCH_FLOOR_M2 } from './contact.ts'
import { Events } from './events.ts'
import { ringSectorM2 } from './ring.ts'
import type { ZoneRings } from './rings.ts'
import { foreshorten, type Shape } from './shape.ts'
import type { Target } from './target.ts'

const out: Overlap = { stemM2: 0, crownM2: 0 }
const thrown = new Events()

/**
 * Finds the angles at which a target is met, and where what is shared has kinks. Exact from contact events on level ground;
 * on a slope, where they have no closed form, by trial every half degree and halving between.
 */
export function meet(fall: Fall, shape: Shape, rings: ZoneRings, target: Target): void {
  const { arcs, events, bodyEnds } = target
  arcs.length = 0
  bodyEnds.length = 0
  events.count = 0
  if (rings.nearestM >= fall.furthestM) return
  const body = rings.nearestM < shape.reachM
  if (body) contactEvents(shape, rings, events)
  if (!fall.slope && !fall.scatter) {
    if (body) flatTouching(shape, rings, events, arcs)
    return
  }
  if (body) {
    if (fall.slope) bodyEnds.push(...flatArcs(onSlope(fall, shape, rings)).flat())
    else flatTouching(shape, rings, events, bodyEnds)
  }
  const all: Arc[] = []
  for (let i = 0; i < bodyEnds.length; i += 2) all.push([bodyEnds[i]!, bodyEnds[i + 1]!])
  if (fall.scatter) all.push(...ringArcs(fall, shape, rings, events))
  for (const [from, to] of flatArcs(all)) arcs.push(from, to)
}

function onSlope(fall: Fall, shape: Shape, rings: ZoneRings): Arc[] {
  const sloped = { ...shape }
  return arcsByTrial((angle) => {
    foreshorten(shape, planShare(fall.slope!, angle), sloped)
    overlapAt(sloped, rings, Math.cos(angle), Math.sin(angle), out)
    return out.stemM2 + out.crownM2 > TOUCH_FLOOR_M2
  })
}

/** Angles at which what scatters meets the zone; its kinks are added to the events. */
function ringArcs(fall: Fall, shape: Shape, rings: ZoneRings, events: Events): Arc[] {
  const { beyond, halfAngleDeg } = fall.scatter!
  const half = (halfAngleDeg * Math.PI) / 180
  const meets = (angle: number) => {
    const reach = fall.slope ? reachAtM(fall, angle) : shape.reachM
    return ringSectorM2(rings, reach, reach * beyond, angle, half) > TOUCH_FLOOR_M2
  }
  if (fall.slope) return arcsByTrial(meets)
  ringEvents(rings, shape.reachM, shape.reachM * beyond, half, thrown)
  const { angle, count } = thrown
  for (let i = 0; i < count; i++) events.add(angle[i]!, 0)
  events.sort()
  if (count === 0) return meets(0) ? [[0, 2 * Math.PI]] : []
  const arcs: Arc[] = []
  for (let i = 0; i < count; i++) {
    const from = angle[i]!
    const to = i + 1 < count ? angle[i + 1]! : angle[0]! + 2 * Math.PI
    if (to - from >= 1e-12 && meets((from + to) / 2)) arcs.push([from, to])
  }
  return arcs
}

/** A side of the sector on a corner of the zone, or on a place where an edge crosses one of the two circles. */
function ringEvents({ x, y, starts }: ZoneRings, inner: number, outer: number, half: number, events: Events) {
  events.count = 0
  const add = (px: number, py: number) => {
    const phi = Math.atan2(py, px)
    events.add(phi + half, 0)
    events.add(phi - half, 0)
  }
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const [x0, y0] = [x[i]!, y[i]!]
      const [dx, dy] = [x[i + 1]! - x0, y[i + 1]! - y0]
      const r = Math.hypot(x0, y0)
      if (r >= inner && r <= outer) add(x0, y0)
      const squared = dx * dx + dy * dy
      const along = x0 * dx + y0 * dy
      for (const radius of [inner, outer]) {
        const under = along * along - squared * (r * r - radius * radius)
        if (under <= 0 || squared === 0) continue
        for (const t of [(-along - Math.sqrt(under)) / squared, (-along + Math.sqrt(under)) / squared])
          if (t >= 0 && t <= 1) add(x0 + t * dx, y0 + t * dy)
      }
    }
  events.sort()
}
