import type { ZoneRings } from './rings.ts'

/**
 * Area of the zone, square metres, between `inner` and `outer` metres of the pivot and within `half` radians (below π/2)
 * on either side of `angle`, in closed form: ∮ ½ (min(r, outer)² − min(r, inner)²) dφ over what of each edge lies in the
 * wedge. The wedge's own sides run through the pivot and add nothing.
 */
export function ringSectorM2(
  { x, y, starts }: ZoneRings,
  inner: number,
  outer: number,
  angle: number,
  half: number,
): number {
  const [ax, ay] = [Math.cos(angle - half), Math.sin(angle - half)]
  const [bx, by] = [Math.cos(angle + half), Math.sin(angle + half)]
  let sum = 0
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const x0 = x[i]!
      const y0 = y[i]!
      const dx = x[i + 1]! - x0
      const dy = y[i + 1]! - y0
      // Left of the wedge's first side and right of its second: places 0..1 along the edge.
      let from = 0
      let to = 1
      const a0 = ax * y0 - ay * x0
      const aStep = ax * dy - ay * dx
      const b0 = by * x0 - bx * y0
      const bStep = by * dx - bx * dy
      if (aStep > 0) from = Math.max(from, -a0 / aStep)
      else if (aStep < 0) to = Math.min(to, -a0 / aStep)
      else if (a0 < 0) continue
      if (bStep > 0) from = Math.max(from, -b0 / bStep)
      else if (bStep < 0) to = Math.min(to, -b0 / bStep)
      else if (b0 < 0) continue
      if (to <= from) continue
      const [px, py] = [x0 + from * dx, y0 + from * dy]
      const [qx, qy] = [x0 + to * dx, y0 + to * dy]
      sum += insideCircle(px, py, qx, qy, outer) - insideCircle(px, py, qx, qy, inner)
    }
  return Math.max(0, sum)
}

/** ∫ ½ min(r, radius)² dφ along a straight piece: triangle inside the circle, sector outside it. */
function insideCircle(x0: number, y0: number, x1: number, y1: number, radius: number): number {
  const dx = x1 - x0
  const dy = y1 - y0
  const squared = dx * dx + dy * dy
  if (squared === 0) return 0
  const cross = x0 * y1 - y0 * x1
  const middle = -(x0 * dx + y0 * dy) / squared
  const inner = radius * radius * squared - cross * cross
  const reach = inner > 0 ? Math.sqrt(inner) / squared : 0
  const enter = Math.min(1, Math.max(0, middle - reach))
  const leave = Math.min(1, Math.max(enter, middle + reach))
  const sector = (s: number, t: number) =>
    s === t
      ? 0
      : ((radius * radius) / 2) *
        Math.atan2((t - s) * cross, (x0 + s * dx) * (x0 + t * dx) + (y0 + s * dy) * (y0 + t * dy))
  return sector(0, enter) + ((leave - enter) * cross) / 2 + sector(leave, 1)
}
