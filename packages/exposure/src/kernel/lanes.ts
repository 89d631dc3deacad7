/**
 * Closed forms of one zone edge against one shape, lane by lane: a lane is a line along the fall (v constant), and an edge
 * adds the length of the shape's lane that lies behind the edge, integrated over the lanes it crosses. Summed with sign
 * over all edges of all rings that is the area of shape ∩ zone: no clipping, and holes and hollow corners need no care.
 * Derivation: Green's theorem, ∮ g(u, v) dv with g the clamped u.
 */

/** Area under the half circle √(1 − y²) from 0 to y; y within −1..1. */
const underCircle = (y: number) => (y * Math.sqrt(Math.max(0, 1 - y * y)) + Math.asin(y)) / 2

/** ∫ clamp(u, 0, length) dv over the part of the edge with |v| ≤ halfWidth. */
export function stripEdge(
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

/** Unit disc about the origin: ∫ (clamp(x, −h, h) + h) dy with h = √(1 − y²), over the part of the edge with |y| ≤ 1. */
export function discEdge(x0: number, y0: number, x1: number, y1: number): number {
  if ((x0 <= -1 && x1 <= -1) || y0 === y1) return 0
  if ((y0 >= 1 && y1 >= 1) || (y0 <= -1 && y1 <= -1)) return 0
  const dx = x1 - x0
  const dy = y1 - y0
  const from = y0 > 1 ? (1 - y0) / dy : y0 < -1 ? (-1 - y0) / dy : 0
  const to = y1 > 1 ? (1 - y0) / dy : y1 < -1 ? (-1 - y0) / dy : 1
  const squared = dx * dx + dy * dy
  const half = -(x0 * dx + y0 * dy) / squared
  const cross = x0 * dy - y0 * dx
  const inner = squared - cross * cross
  // The edge's line passes the disc by: the lanes it crosses lie wholly behind it or wholly before it.
  if (inner <= 0) return x0 + ((from + to) / 2) * dx > 0 ? 2 * lanes(y0, dy, from, to) : 0
  const reach = Math.sqrt(inner) / squared
  const enter = Math.min(to, Math.max(from, half - reach))
  const leave = Math.min(to, Math.max(from, half + reach))
  let sum = 0
  if (enter > from && x0 + ((from + enter) / 2) * dx > 0) sum += 2 * lanes(y0, dy, from, enter)
  if (leave > enter)
    sum += (x0 + ((enter + leave) / 2) * dx) * dy * (leave - enter) + lanes(y0, dy, enter, leave)
  if (to > leave && x0 + ((leave + to) / 2) * dx > 0) sum += 2 * lanes(y0, dy, leave, to)
  return sum
}

/** ∫ h dy along the edge between two of its places (0 first end, 1 second). */
function lanes(y0: number, dy: number, from: number, to: number): number {
  return underCircle(clampUnit(y0 + to * dy)) - underCircle(clampUnit(y0 + from * dy))
}

const clampUnit = (y: number) => Math.max(-1, Math.min(1, y))

/** The half x ≤ 0 of the unit disc, within |y| ≤ halfWidth (at most 1): ∫ (clamp(x, −h, 0) + h) dy. */
export function backEdge(x0: number, y0: number, x1: number, y1: number, halfWidth: number): number {
  if ((x0 <= -1 && x1 <= -1) || y0 === y1) return 0
  if ((y0 >= halfWidth && y1 >= halfWidth) || (y0 <= -halfWidth && y1 <= -halfWidth)) return 0
  const dx = x1 - x0
  const dy = y1 - y0
  const from = y0 > halfWidth ? (halfWidth - y0) / dy : y0 < -halfWidth ? (-halfWidth - y0) / dy : 0
  const to = y1 > halfWidth ? (halfWidth - y0) / dy : y1 < -halfWidth ? (-halfWidth - y0) / dy : 1
  if (x0 + from * dx >= 0 && x0 + to * dx >= 0) return lanes(y0, dy, from, to)
  const squared = dx * dx + dy * dy
  const half = -(x0 * dx + y0 * dy) / squared
  const cross = x0 * dy - y0 * dx
  const reach = Math.sqrt(Math.max(0, squared - cross * cross)) / squared
  const within = (t: number) => Math.min(to, Math.max(from, t))
  const cuts = [from, within(half - reach), within(half + reach), within(dx === 0 ? from : -x0 / dx), to]
  cuts.sort((a, b) => a - b)
  let sum = 0
  for (let i = 0; i < 4; i++) {
    const a = cuts[i]!
    const b = cuts[i + 1]!
    if (b <= a) continue
    const x = x0 + ((a + b) / 2) * dx
    const y = y0 + ((a + b) / 2) * dy
    if (x >= 0) sum += lanes(y0, dy, a, b)
    else if (x * x + y * y <= 1) sum += x * dy * (b - a) + lanes(y0, dy, a, b)
  }
  return sum
}
