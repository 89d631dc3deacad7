import type { ZoneRings } from './rings.ts'
import type { Shape } from './shape.ts'

/** A building that can carry what falls. */
export interface Shelter {
  rings: ZoneRings
  heightM: number
}

/** How a stem comes to rest on a wall, in the plane of its fall. */
export interface Arrest {
  restAngleDeg: number
  /** Length of stem from its foot to above the far edge. */
  toFarEdgeM: number
  /** Length that hangs over beyond the far edge; 0 where none does. */
  overhangM: number
  /** How far its top is from the foot in plan. */
  planReachM: number
}

/**
 * A stem of a length laid against a wall of a height that begins and ends at two distances: it rests at atan(height /
 * near), and hangs over by its length beyond far √(1 + (height / near)²) (model review, part 2.2). Statics of the wall, the
 * hinge and the crown are not in it.
 */
export function arrestOf(lengthM: number, nearM: number, farM: number, heightM: number): Arrest {
  const rest = Math.atan2(heightM, nearM)
  const toFarEdgeM = farM / Math.cos(rest)
  return {
    restAngleDeg: (rest * 180) / Math.PI,
    toFarEdgeM,
    overhangM: Math.max(0, lengthM - toFarEdgeM),
    planReachM: lengthM * Math.cos(rest),
  }
}

/** What shelters take away at one angle: areas of stem and crown wood, and the greatest share left anywhere in the zone. */
export interface Sheltered {
  stemM2: number
  crownM2: number
  left: number
}

// Gauss-Legendre, four points on 0..1.
const inner = Math.sqrt((3 - 2 * Math.sqrt(1.2)) / 7)
const outer = Math.sqrt((3 + 2 * Math.sqrt(1.2)) / 7)
const AT = [-outer, -inner, inner, outer].map((x) => (1 + x) / 2)
const root = Math.sqrt(30)
const WEIGHT = [18 - root, 18 + root, 18 + root, 18 - root].map((x) => x / 72)

/**
 * Lane by lane along the fall: what of the zone lies beyond the far side of a shelter that the lane meets is left with
 * `residual` where the stem hangs over it and with `least` where it does not, whichever shelter leaves less. Lanes are
 * integrated by four Gauss points between the corners of all outlines.
 */
export function shelteredAt(
  s: Shape,
  zone: ZoneRings,
  shelters: readonly Shelter[],
  cos: number,
  sin: number,
  shares: { residual: number; least: number },
): Sheltered {
  const turned = [zone, ...shelters.map((shelter) => shelter.rings)].map((rings) => turn(rings, cos, sin))
  const lengthM = s.crowned ? s.c + s.p : s.c
  const got: Sheltered = { stemM2: 0, crownM2: 0, left: 0 }
  const lane = (v: number, width: number) => {
    const shadows = shelters
      .map((shelter, n) => behind(turned[n + 1]!, shelter.heightM, v, lengthM, shares))
      .filter((shadow) => shadow !== null)
    addLane(got, s, turned[0]!, v, shadows, width)
  }
  const cuts = lanesOf(s, turned)
  for (let i = 0; i + 1 < cuts.length; i++) {
    const all = cuts[i + 1]! - cuts[i]!
    if (all < 1e-12) continue
    const pieces = Math.ceil(all / WIDEST_M)
    const width = all / pieces
    for (let piece = 0; piece < pieces; piece++)
      for (let k = 0; k < 4; k++) lane(cuts[i]! + width * (piece + AT[k]!), WEIGHT[k]! * width)
  }
  return got
}

const WIDEST_M = 0.8

interface Shadow {
  fromM: number
  left: number
}

function addLane(
  got: Sheltered,
  s: Shape,
  zone: Turned,
  v: number,
  shadows: readonly Shadow[],
  width: number,
): void {
  const crossings = crossingsOf(zone, v)
  for (const [from, to, crown] of stretches(s, v))
    for (let i = 0; i + 1 < crossings.length; i += 2) {
      const a = Math.max(from, crossings[i]!)
      const b = Math.min(to, crossings[i + 1]!)
      if (b <= a) continue
      const steps = [a, b, ...shadows.map((h) => h.fromM).filter((u) => u > a && u < b)].sort((x, y) => x - y)
      for (let k = 0; k + 1 < steps.length; k++) {
        const middle = (steps[k]! + steps[k + 1]!) / 2
        const left = shadows.reduce((least, h) => (h.fromM < middle ? Math.min(least, h.left) : least), 1)
        got[crown ? 'crownM2' : 'stemM2'] += (1 - left) * (steps[k + 1]! - steps[k]!) * width
        // A hair of rounding between a shadow's edge and the zone's is nothing left.
        if (left > got.left && steps[k + 1]! - steps[k]! > 1e-9) got.left = left
      }
    }
}

/** Where the silhouette lies in a lane: stretches along the fall, and whether of crown. */
function stretches(s: Shape, v: number): [from: number, to: number, crown: boolean][] {
  const aside = Math.abs(v)
  if (s.crowned) {
    const h = s.p * Math.sqrt(Math.max(0, 1 - (v / s.q) ** 2))
    if (aside >= s.w) return [[s.c - h, s.c + h, true]]
    return [
      [0, s.c, false],
      [s.c, s.c + h, true],
    ]
  }
  if (aside >= s.w) return []
  const round = s.rounded ? Math.sqrt(s.w * s.w - v * v) : 0
  return [[-round, s.c + round, false]]
}

/** What a shelter does to a lane: nothing where the lane does not meet it, or where the tree itself stands in it. */
function behind(
  shelter: Turned,
  heightM: number,
  v: number,
  lengthM: number,
  { residual, least }: { residual: number; least: number },
): Shadow | null {
  const crossings = crossingsOf(shelter, v)
  for (let i = 0; i + 1 < crossings.length; i += 2) {
    const near = crossings[i]!
    const far = crossings[i + 1]!
    if (far <= 0) continue
    if (near <= 0 || near >= lengthM) return null
    return { fromM: far, left: arrestOf(lengthM, near, far, heightM).overhangM > 0 ? residual : least }
  }
  return null
}

interface Turned {
  u: Float64Array
  v: Float64Array
  starts: number[]
}

function turn({ x, y, starts }: ZoneRings, cos: number, sin: number): Turned {
  const corners = starts[starts.length - 1]!
  const u = new Float64Array(corners)
  const v = new Float64Array(corners)
  for (let i = 0; i < corners; i++) {
    u[i] = x[i]! * cos + y[i]! * sin
    v[i] = y[i]! * cos - x[i]! * sin
  }
  return { u, v, starts }
}

/** Places along a lane at which it crosses the outline, ascending; they come in pairs. */
function crossingsOf({ u, v, starts }: Turned, lane: number): number[] {
  const places: number[] = []
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++)
      if (v[i]! > lane !== v[i + 1]! > lane)
        places.push(u[i]! + ((lane - v[i]!) / (v[i + 1]! - v[i]!)) * (u[i + 1]! - u[i]!))
  return places.sort((a, b) => a - b)
}

/** Lanes at which something begins, ends or bends, ascending: corners, and where an edge crosses the crown's outline. */
function lanesOf(s: Shape, turned: readonly Turned[]): number[] {
  const { across, w } = s
  const zone = turned[0]!.v
  const low = Math.max(
    -across,
    zone.reduce((least, lane) => Math.min(least, lane), across),
  )
  const high = Math.min(
    across,
    zone.reduce((most, lane) => Math.max(most, lane), -across),
  )
  const cuts = [low, high]
  const cut = (lane: number) => {
    if (lane > low && lane < high) cuts.push(lane)
  }
  cut(-w)
  cut(w)
  for (const one of turned) {
    for (const lane of one.v) cut(lane)
    if (s.crowned) crownLanes(s, one, s.c, cut)
    else if (s.rounded) {
      crownLanes(s, one, s.c, cut)
      crownLanes(s, one, 0, cut)
    } else farEnd(s, one, cut)
  }
  return cuts.sort((a, b) => a - b)
}

/** Lanes at which edges cross an ellipse about a place along the fall. */
function crownLanes(s: Shape, { u, v, starts }: Turned, centre: number, cut: (lane: number) => void): void {
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const [x, y] = [(u[i]! - centre) / s.p, v[i]! / s.q]
      const [dx, dy] = [(u[i + 1]! - centre) / s.p - x, v[i + 1]! / s.q - y]
      const squared = dx * dx + dy * dy
      const along = x * dx + y * dy
      const under = along * along - squared * (x * x + y * y - 1)
      if (under <= 0 || squared === 0) continue
      for (const t of [(-along - Math.sqrt(under)) / squared, (-along + Math.sqrt(under)) / squared])
        if (t > 0 && t < 1) cut((y + t * dy) * s.q)
    }
}

/** Lanes at which edges cross the ends of a strip. */
function farEnd(s: Shape, { u, v, starts }: Turned, cut: (lane: number) => void): void {
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++)
      for (const end of [0, s.c])
        if (u[i]! > end !== u[i + 1]! > end)
          cut(v[i]! + ((end - u[i]!) / (u[i + 1]! - u[i]!)) * (v[i + 1]! - v[i]!))
}
