import { bearingFromAngle, FULL_TURN } from './bearing.ts'

/**
 * Adds flat arcs to `bearings` as degrees clockwise from true north, from 0 to below 360 and to above it, one arc that
 * passes east as one. Angles run against the clock and bearings with it: an arc's end is its first bearing.
 */
export function addBearings(flat: readonly number[], bearings: number[]): void {
  const n = flat.length
  if (n === 0) return
  if (n === 2 && flat[1]! - flat[0]! >= FULL_TURN - SAME_ANGLE) {
    bearings.push(0, 360)
    return
  }
  const passes = n > 2 && flat[0]! <= SAME_ANGLE && flat[n - 1]! >= FULL_TURN - SAME_ANGLE
  const add = (from: number, to: number) => {
    const fromDeg = bearingFromAngle(to)
    bearings.push(fromDeg, fromDeg + ((to - from) * 180) / Math.PI)
  }
  if (passes) add(flat[n - 2]!, flat[1]! + FULL_TURN)
  for (let i = passes ? 2 : 0; i < (passes ? n - 2 : n); i += 2) add(flat[i]!, flat[i + 1]!)
}

/** Angles from `from` to `to` (radians counter-clockwise from east); `from` within a turn, `to` above it and perhaps past a full turn. */
export type Arc = readonly [from: number, to: number]

const SAME_ANGLE = 1e-11
const isWhole = ([from, to]: Arc) => to - from >= FULL_TURN - SAME_ANGLE

/** Arcs that may overlap, as arcs in ascending order within 0 and 2π that do not. */
export function flatArcs(arcs: readonly Arc[]): Arc[] {
  const flat: [number, number][] = []
  for (const arc of arcs) {
    if (isWhole(arc)) return [[0, FULL_TURN]]
    const [from, to] = arc
    if (to > FULL_TURN) flat.push([from, FULL_TURN], [0, to - FULL_TURN])
    else flat.push([from, to])
  }
  flat.sort((a, b) => a[0] - b[0])
  const joined: [number, number][] = []
  for (const arc of flat) {
    const last = joined[joined.length - 1]
    if (last && arc[0] <= last[1] + SAME_ANGLE) last[1] = Math.max(last[1], arc[1])
    else joined.push(arc)
  }
  return joined
}

/** Arcs that may overlap, as arcs that do not; one that passes east stays one. */
export function unionOfArcs(arcs: readonly Arc[]): Arc[] {
  const joined = flatArcs(arcs)
  const first = joined[0]
  const last = joined[joined.length - 1]
  if (!first || !last || first === last) return first && isWhole(first) ? [[0, FULL_TURN]] : joined
  if (first[0] <= SAME_ANGLE && last[1] >= FULL_TURN - SAME_ANGLE)
    return [[last[0], first[1] + FULL_TURN], ...joined.slice(1, -1)]
  return joined
}

/** Arcs in ascending order within 0 and 2π, from and to one after the other, as arcs of which one may pass east. */
export function joinAcrossEast(flat: readonly number[]): Arc[] {
  const arcs: Arc[] = []
  for (let i = 0; i + 1 < flat.length; i += 2) arcs.push([flat[i]!, flat[i + 1]!])
  return unionOfArcs(arcs)
}

const TRIALS = 720
const STEP = FULL_TURN / TRIALS
const HALVINGS = 34

/**
 * The angles at which something holds, found by trial every half degree and by halving between: for outlines whose events
 * have no closed form. Stretches narrower than half a degree may be missed, the ends of the others are exact to 1e-12.
 */
export function arcsByTrial(holds: (angle: number) => boolean): Arc[] {
  const at = Array.from({ length: TRIALS }, (_, i) => holds(i * STEP))
  if (at.every(Boolean)) return [[0, FULL_TURN]]
  const turn = (i: number) => {
    let [low, high] = [i * STEP, (i + 1) * STEP]
    const before = at[i]!
    for (let k = 0; k < HALVINGS; k++) {
      const middle = (low + high) / 2
      if (holds(middle) === before) low = middle
      else high = middle
    }
    return (low + high) / 2
  }
  const arcs: Arc[] = []
  const begins = at.flatMap((held, i) => (!held && at[(i + 1) % TRIALS] ? [i] : []))
  for (const i of begins) {
    let end = i + 1
    while (at[(end + 1) % TRIALS]) end++
    const from = turn(i)
    const to = turn(end % TRIALS) + (end >= TRIALS ? FULL_TURN : 0)
    arcs.push(from >= FULL_TURN ? [from - FULL_TURN, to - FULL_TURN] : [from, to])
  }
  return arcs
}
