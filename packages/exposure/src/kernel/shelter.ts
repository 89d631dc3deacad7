import type { Silhouette } from '../silhouette.ts'
import type { ZoneRings } from '../zone.ts'

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
  s: Silhouette,
  zone: ZoneRings,
  shelters: readonly Shelter[],
  cos: number,
  sin: number,
  shares: { residual: number; least: number },
): Sheltered {
  const turned = [zone, ...shelters.map((shelter) => shelter.rings)].map((rings) => turn(rings, cos, sin))
  const lengthM = s.kind === 'crowned' ? s.centreM + s.alongM : s.lengthM
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
    // Where the crown's edge passes an edge of the zone there is a kink between corners: narrow pieces keep it small.
    const pieces = Math.ceil(all / WIDEST_M)
    const width = all / pieces
    for (let piece = 0; piece < pieces; piece++)
      for (let k = 0; k < 4; k++) lane(cuts[i]! + width * (piece + AT[k]!), WEIGHT[k]! * width)
  }
  // What is left is asked of lanes that no shelter has a say in: one more shelter must not find a lane more.
  got.left = 0
  const [low, high] = spanOf(s, turned[0]!)
  for (let k = 0; k < LANES; k++) lane(low + ((k + 0.5) / LANES) * (high - low), 0)
  return got
}

const LANES = 32
const WIDEST_M = 0.4

/** The lanes that both the silhouette and the zone have a part in. */
function spanOf(s: Silhouette, { v }: Turned): [low: number, high: number] {
  const across = s.kind === 'crowned' ? Math.max(s.acrossM, s.halfWidthM) : s.halfWidthM
  const low = v.reduce((least, lane) => Math.min(least, lane), across)
  const high = v.reduce((most, lane) => Math.max(most, lane), -across)
  return [Math.max(-across, low), Math.min(across, high)]
}

interface Shadow {
  fromM: number
  left: number
}

function addLane(
  got: Sheltered,
  s: Silhouette,
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
        got.left = Math.max(got.left, left)
      }
    }
}

/** Where the silhouette lies in a lane: stretches along the fall, and whether of crown. */
function stretches(s: Silhouette, v: number): [from: number, to: number, crown: boolean][] {
  const w = s.halfWidthM
  if (s.kind === 'crowned') {
    const h = s.alongM * Math.sqrt(Math.max(0, 1 - (v / s.acrossM) ** 2))
    if (Math.abs(v) >= w) return [[s.centreM - h, s.centreM + h, true]]
    return [
      [0, s.centreM, false],
      [s.centreM, s.centreM + h, true],
    ]
  }
  if (Math.abs(v) >= w) return []
  const round = s.kind === 'capsule' ? Math.sqrt(w * w - v * v) : 0
  return [[-round, s.lengthM + round, false]]
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

const turn = ({ x, y, starts }: ZoneRings, cos: number, sin: number): Turned => ({
  u: x.map((east, i) => east * cos + y[i]! * sin),
  v: x.map((east, i) => y[i]! * cos - east * sin),
  starts,
})

/** Places along a lane at which it crosses the outline, ascending; they come in pairs. */
function crossingsOf({ u, v, starts }: Turned, lane: number): number[] {
  const places: number[] = []
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++)
      if (v[i]! > lane !== v[i + 1]! > lane)
        places.push(u[i]! + ((lane - v[i]!) / (v[i + 1]! - v[i]!)) * (u[i + 1]! - u[i]!))
  return places.sort((a, b) => a - b)
}

/** Lanes at which something begins, ends or bends, ascending. */
function lanesOf(s: Silhouette, turned: readonly Turned[]): number[] {
  const w = s.halfWidthM
  const across = s.kind === 'crowned' ? Math.max(s.acrossM, w) : w
  const cuts = [-across, across, -w, w]
  for (const { v } of turned) for (const lane of v) if (lane > -across && lane < across) cuts.push(lane)
  return cuts.sort((a, b) => a - b)
}
