/**
 * Closed forms of one zone edge against one shape, lane by lane: a lane is a line along the fall (v constant), and an edge
 * adds the length of the shape's lane that lies behind the edge, integrated over the lanes it crosses. Summed with sign
 * over all edges of all rings that is the area of shape ∩ zone: no clipping, and holes and hollow corners need no care.
 * Derivation: Green's theorem, ∮ g(u, v) dv with g the clamped u.
 */

/** Area under the half circle √(1 − y²) from 0 to y; y within −1..1, give or take rounding. */
function underHalfCircle(y: number): number {
  if (y >= 1) return Math.PI / 4
  if (y <= -1) return -Math.PI / 4
  return (y * Math.sqrt(1 - y * y) + Math.asin(y)) / 2
}

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

/**
 * The unit disc about the origin, without the part x ≤ 0 of the lanes |y| ≤ covered (0 to 1), which the stem covers: the
 * crown that is not stem. Those lanes begin at x = 0, the others at −h, with h = √(1 − y²): ∫ (clamp(x, start, h) − start) dy.
 */
export function crownEdge(x0: number, y0: number, x1: number, y1: number, covered: number): number {
  const dy = y1 - y0
  if (dy === 0 || (x0 <= -1 && x1 <= -1)) return 0
  if ((y0 >= 1 && y1 >= 1) || (y0 <= -1 && y1 <= -1)) return 0
  const dx = x1 - x0
  const squared = dx * dx + dy * dy
  const cross = x0 * dy - y0 * dx
  const inner = squared - cross * cross
  // Places along the edge (0 first end, 1 second) between which it runs inside the disc; none where its line passes by.
  const half = -(x0 * dx + y0 * dy) / squared
  const reach = inner > 0 ? Math.sqrt(inner) / squared : 0
  const enter = half - reach
  const leave = half + reach
  // Places at which it meets the lanes −1, −covered, covered and 1, in the order in which it meets them.
  const first = clampPlace(((dy > 0 ? -1 : 1) - y0) / dy)
  const second = clampPlace(((dy > 0 ? -covered : covered) - y0) / dy)
  const third = clampPlace(((dy > 0 ? covered : -covered) - y0) / dy)
  const fourth = clampPlace(((dy > 0 ? 1 : -1) - y0) / dy)
  let sum = 0
  if (second > first) sum += openLanes(x0, y0, dx, dy, enter, leave, first, second)
  if (third > second) sum += coveredLanes(x0, y0, dx, dy, enter, leave, second, third)
  if (fourth > third) sum += openLanes(x0, y0, dx, dy, enter, leave, third, fourth)
  return sum
}

const clampPlace = (t: number) => (t < 0 ? 0 : Math.min(1, t))

/** Lanes from −h to h. */
function openLanes(
  x0: number,
  y0: number,
  dx: number,
  dy: number,
  enter: number,
  leave: number,
  from: number,
  to: number,
): number {
  const a = Math.min(to, Math.max(from, enter))
  const b = Math.min(to, Math.max(from, leave))
  let sum = 0
  if (a > from && x0 + ((from + a) / 2) * dx > 0) sum += 2 * halfLanes(y0, dy, from, a)
  if (b > a) sum += (x0 + ((a + b) / 2) * dx) * dy * (b - a) + halfLanes(y0, dy, a, b)
  if (to > b && x0 + ((b + to) / 2) * dx > 0) sum += 2 * halfLanes(y0, dy, b, to)
  return sum
}

/** Lanes from 0 to h. */
function coveredLanes(
  x0: number,
  y0: number,
  dx: number,
  dy: number,
  enter: number,
  leave: number,
  from: number,
  to: number,
): number {
  if (dx === 0) {
    if (x0 <= 0) return 0
  } else if (dx > 0) from = Math.max(from, -x0 / dx)
  else to = Math.min(to, -x0 / dx)
  if (to <= from) return 0
  const a = Math.min(to, Math.max(from, enter))
  const b = Math.min(to, Math.max(from, leave))
  let sum = 0
  if (a > from) sum += halfLanes(y0, dy, from, a)
  if (b > a) sum += (x0 + ((a + b) / 2) * dx) * dy * (b - a)
  if (to > b) sum += halfLanes(y0, dy, b, to)
  return sum
}

/** ∫ h dy along the edge between two of its places. */
function halfLanes(y0: number, dy: number, from: number, to: number): number {
  return underHalfCircle(y0 + to * dy) - underHalfCircle(y0 + from * dy)
}
