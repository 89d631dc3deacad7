import type { ZoneRings } from './rings.ts'
import { type Shape, underHalfCircle } from './shape.ts'

/** Areas of silhouette ∩ zone, square metres: within the stem or limb wood, and within the crown outside it. */
export interface Overlap {
  stemM2: number
  crownM2: number
}

/**
 * Areas of silhouette ∩ zone for the silhouette fallen along each of `count` directions (cos, sin), written from `place` on
 * into `stemM2` and `crownM2`. In closed form, lane by lane: a lane is a line along the fall (v constant), and an edge adds
 * the length of the shape's lane that lies behind it, integrated over the lanes it crosses. Summed with sign over all edges
 * of all rings that is the area of shape ∩ zone (Green's theorem, ∮ g(u, v) dv with g the clamped u): no clipping, and holes
 * and hollow corners need no care. Rounding may leave a hair below zero, which is cut off.
 *
 * All numbers pass through arrays, and the loops below are one function each: numbers handed from function to function in
 * this innermost place would each be put on the heap.
 */
export function overlaps(
  s: Shape,
  zone: ZoneRings,
  cos: Float64Array,
  sin: Float64Array,
  count: number,
  stemM2: Float64Array,
  crownM2: Float64Array,
  place: number,
): void {
  if (s.crowned) crownedOverlaps(s, zone, cos, sin, count, stemM2, crownM2, place)
  else
    for (let k = 0; k < count; k++) {
      stemM2[place + k] = Math.max(0, stemOverlap(s, zone, cos[k]!, sin[k]!))
      crownM2[place + k] = 0
    }
}

const oneCos = new Float64Array(1)
const oneSin = new Float64Array(1)
const oneStem = new Float64Array(1)
const oneCrown = new Float64Array(1)

/** The same for one direction: writes into `out` and returns it. */
export function overlapAt(s: Shape, zone: ZoneRings, cos: number, sin: number, out: Overlap): Overlap {
  oneCos[0] = cos
  oneSin[0] = sin
  overlaps(s, zone, oneCos, oneSin, 1, oneStem, oneCrown, 0)
  out.stemM2 = oneStem[0]!
  out.crownM2 = oneCrown[0]!
  return out
}

/**
 * The crown is its ellipse less the part behind its centre that the stem covers already: scaled to the unit disc about the
 * origin, without the part x ≤ 0 of the lanes |y| ≤ covered. With h = √(1 − y²) a lane begins at 0 in the covered lanes and
 * at −h in the others, and an edge adds ∫ (clamp(x, start, h) − start) dy. Right of the disc that is a sum over lanes that
 * depends on y alone, and so is −∫ start dy inside it: over a closed ring their values at the corners cancel, and only those
 * remain where an edge meets the circle (`onCircle`) or the outermost lanes (`laneSum`).
 */
function crownedOverlaps(
  s: Shape,
  zone: ZoneRings,
  cosines: Float64Array,
  sines: Float64Array,
  count: number,
  stemM2: Float64Array,
  crownM2: Float64Array,
  place: number,
): void {
  const { x, y, starts } = zone
  const { w, c, across, covered, coveredF, laneSum } = s
  const perP = 1 / s.p
  const perQ = 1 / s.q
  const rings = starts.length - 1
  for (let k = 0; k < count; k++) {
    const cos = cosines[k]!
    const sin = sines[k]!
    let stem = 0
    let crown = 0
    for (let ring = 0; ring < rings; ring++) {
      const first = starts[ring]!
      const end = starts[ring + 1]!
      let u0 = x[first]! * cos + y[first]! * sin
      let v0 = y[first]! * cos - x[first]! * sin
      for (let i = first + 1; i < end; i++) {
        const px = x[i]!
        const py = y[i]!
        const u1 = px * cos + py * sin
        const v1 = py * cos - px * sin
        const ua = u0
        const va = v0
        u0 = u1
        v0 = v1
        if ((ua <= 0 && u1 <= 0) || (va >= across && v1 >= across) || (va <= -across && v1 <= -across))
          continue
        if (!((va >= w && v1 >= w) || (va <= -w && v1 <= -w))) stem += stripEdge(ua, va, u1, v1, c, w)
        let xa = (ua - c) * perP
        let xb = (u1 - c) * perP
        if (xa <= -1 && xb <= -1) continue
        let ya = va * perQ
        let yb = v1 * perQ
        const dx = xb - xa
        const dy = yb - ya
        if (ya > 1 !== yb > 1 && xa + ((1 - ya) / dy) * dx > 0) crown += dy > 0 ? laneSum : -laneSum
        if (ya < -1 !== yb < -1 && xa + ((-1 - ya) / dy) * dx > 0) crown += dy > 0 ? laneSum : -laneSum
        const outA = xa * xa + ya * ya - 1
        const inA = outA < 0
        const inB = xb * xb + yb * yb < 1
        if (!(inA && inB)) {
          const squared = dx * dx + dy * dy
          const along = xa * dx + ya * dy
          if (!inA && !inB && (along >= 0 || along <= -squared)) continue
          const inner = along * along - squared * outA
          if (inner <= 0 && inA === inB) continue
          const root = inner > 0 ? Math.sqrt(inner) : 0
          const fromX = xa
          const fromY = ya
          if (!inA) {
            const t = (-along - root) / squared
            xa = fromX + t * dx
            ya = fromY + t * dy
            crown += onCircle(covered, coveredF, xa, ya)
          }
          if (!inB) {
            const t = (-along + root) / squared
            xb = fromX + t * dx
            yb = fromY + t * dy
            crown -= onCircle(covered, coveredF, xb, yb)
          }
        }
        crown += ((xa + xb) / 2) * (yb - ya)
        if (xa < 0 || xb < 0) crown -= behindCentre(xa, ya, xb, yb, covered)
      }
    }
    crown *= s.p * s.q
    stemM2[place + k] = Math.max(stem, 0)
    crownM2[place + k] = Math.max(crown, 0)
  }
}

function stemOverlap(s: Shape, { x, y, starts }: ZoneRings, cos: number, sin: number): number {
  const { w, c, rounded } = s
  const perW = 1 / w
  let stem = 0
  let ends = 0
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const u0 = x[i]! * cos + y[i]! * sin
      const v0 = y[i]! * cos - x[i]! * sin
      const u1 = x[i + 1]! * cos + y[i + 1]! * sin
      const v1 = y[i + 1]! * cos - x[i + 1]! * sin
      if ((v0 >= w && v1 >= w) || (v0 <= -w && v1 <= -w)) continue
      stem += stripEdge(u0, v0, u1, v1, c, w)
      if (!rounded) continue
      ends += halfDiscEdge((u0 - c) * perW, v0 * perW, (u1 - c) * perW, v1 * perW)
      // The butt is the same half disc seen from the other side, which turns the ring about.
      ends -= halfDiscEdge(-u0 * perW, v0 * perW, -u1 * perW, v1 * perW)
    }
  return stem + ends * w * w
}

/** One edge against the half x > 0 of the unit disc: ∫ clamp(x, 0, h) dy, by the same sums (all lanes covered). */
function halfDiscEdge(x0: number, y0: number, x1: number, y1: number): number {
  if (x0 <= 0 && x1 <= 0) return 0
  const dx = x1 - x0
  const dy = y1 - y0
  let sum = 0
  if (y0 > 1 !== y1 > 1 && x0 + ((1 - y0) / dy) * dx > 0) sum += dy > 0 ? QUARTER : -QUARTER
  if (y0 < -1 !== y1 < -1 && x0 + ((-1 - y0) / dy) * dx > 0) sum += dy > 0 ? QUARTER : -QUARTER
  const out0 = x0 * x0 + y0 * y0 - 1
  const in0 = out0 < 0
  const in1 = x1 * x1 + y1 * y1 < 1
  let [xa, ya, xb, yb] = [x0, y0, x1, y1]
  if (!(in0 && in1)) {
    const squared = dx * dx + dy * dy
    const along = x0 * dx + y0 * dy
    if (!in0 && !in1 && (along >= 0 || along <= -squared)) return sum
    const inner = along * along - squared * out0
    if (inner <= 0 && in0 === in1) return sum
    const root = inner > 0 ? Math.sqrt(inner) : 0
    if (!in0) {
      const t = (-along - root) / squared
      xa = x0 + t * dx
      ya = y0 + t * dy
      sum += onCircle(1, QUARTER, xa, ya)
    }
    if (!in1) {
      const t = (-along + root) / squared
      xb = x0 + t * dx
      yb = y0 + t * dy
      sum -= onCircle(1, QUARTER, xb, yb)
    }
  }
  sum += ((xa + xb) / 2) * (yb - ya)
  if (xa < 0 || xb < 0) sum -= behindCentre(xa, ya, xb, yb, 1)
  return sum
}

const QUARTER = Math.PI / 4

/** ∫ clamp(u, 0, length) dv over the part of the edge with |v| ≤ halfWidth. */
function stripEdge(
  u0: number,
  v0: number,
  u1: number,
  v1: number,
  length: number,
  halfWidth: number,
): number {
  const dv = v1 - v0
  if (dv === 0) return 0
  let va = v0
  let vb = v1
  let ua = u0
  let ub = u1
  const slope = (u1 - u0) / dv
  if (va > halfWidth) va = halfWidth
  else if (va < -halfWidth) va = -halfWidth
  if (vb > halfWidth) vb = halfWidth
  else if (vb < -halfWidth) vb = -halfWidth
  if (va === vb) return 0
  if (va !== v0) ua = u0 + (va - v0) * slope
  if (vb !== v1) ub = u0 + (vb - v0) * slope
  if (ua <= 0 && ub <= 0) return 0
  if (ua >= length && ub >= length) return length * (vb - va)
  if (ua >= 0 && ub >= 0 && ua <= length && ub <= length) return ((ua + ub) / 2) * (vb - va)
  return ((sumOfClamped(ub, length) - sumOfClamped(ua, length)) / (ub - ua)) * (vb - va)
}

/** ∫ from 0 to u of clamp(t, 0, length) dt. */
const sumOfClamped = (u: number, length: number) =>
  u <= 0 ? 0 : u >= length ? length * (u - length / 2) : (u * u) / 2

/** What is left of the two sums over lanes where an edge enters the disc. */
function onCircle(covered: number, coveredF: number, x: number, y: number): number {
  if (x <= 0 && y <= covered && y >= -covered) return 0
  const under = underHalfCircle(y > 1 ? 1 : Math.max(y, -1))
  if (x > 0) return under
  return y > 0 ? coveredF - under : -coveredF - under
}

/** ∫ x dy over what of a straight piece lies in x < 0 and |y| < covered. */
function behindCentre(xa: number, ya: number, xb: number, yb: number, covered: number): number {
  if ((ya >= covered && yb >= covered) || (ya <= -covered && yb <= -covered) || ya === yb) return 0
  const slope = (xb - xa) / (yb - ya)
  let a = ya > covered ? covered : Math.max(ya, -covered)
  let b = yb > covered ? covered : Math.max(yb, -covered)
  let atA = xa + (a - ya) * slope
  let atB = xa + (b - ya) * slope
  if (atA > 0) {
    if (atB >= 0) return 0
    a = ya - xa / slope
    atA = 0
  } else if (atB > 0) {
    b = ya - xa / slope
    atB = 0
  }
  return ((atA + atB) / 2) * (b - a)
}
