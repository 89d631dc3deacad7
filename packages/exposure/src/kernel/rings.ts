/** Rings laid out for the kernel: outer rings counter-clockwise, holes clockwise, each closed by its first point. The arrays may be longer than what they hold. */
export interface ZoneRings {
  x: Float64Array
  y: Float64Array
  /** Where each ring begins in x and y, and at the end the length. */
  starts: number[]
  minX: number
  minY: number
  maxX: number
  maxY: number
  /** Area within the rings, square metres. */
  areaM2: number
  /** Least distance from the tree to the rings' lines or the area within, metres. */
  nearestM: number
}

/** Rings without corners, with room that grows; used again for every tree. */
export const emptyRings = (): ZoneRings => ({
  x: new Float64Array(64),
  y: new Float64Array(64),
  starts: [0],
  minX: 0,
  minY: 0,
  maxX: 0,
  maxY: 0,
  areaM2: 0,
  nearestM: 0,
})

export function makeRoom(rings: ZoneRings, corners: number): void {
  if (corners <= rings.x.length) return
  const room = 2 * corners
  const { x, y } = rings
  rings.x = new Float64Array(room)
  rings.y = new Float64Array(room)
  rings.x.set(x)
  rings.y.set(y)
}

/** Works out bounds, area and nearest distance from the pivot at 0, 0, which lies at 0 within the rings. */
export function measureRings(rings: ZoneRings): void {
  const { x, y, starts } = rings
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
  let twice = 0
  let nearest = Infinity
  let turns = 0
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const x0 = x[i]!
      const y0 = y[i]!
      const x1 = x[i + 1]!
      const y1 = y[i + 1]!
      if (x0 < minX) minX = x0
      if (x0 > maxX) maxX = x0
      if (y0 < minY) minY = y0
      if (y0 > maxY) maxY = y0
      twice += x0 * y1 - x1 * y0
      const dx = x1 - x0
      const dy = y1 - y0
      const squared = dx * dx + dy * dy
      const along = -(x0 * dx + y0 * dy)
      const t = along <= 0 || squared === 0 ? 0 : along >= squared ? 1 : along / squared
      const ex = x0 + t * dx
      const ey = y0 + t * dy
      const d = ex * ex + ey * ey
      if (d < nearest) nearest = d
      if (y0 > 0 !== y1 > 0 && x0 - (y0 / dy) * dx > 0) turns += y1 > y0 ? 1 : -1
    }
  rings.minX = minX
  rings.minY = minY
  rings.maxX = maxX
  rings.maxY = maxY
  rings.areaM2 = twice / 2
  rings.nearestM = turns > 0 ? 0 : Math.sqrt(nearest)
}

// One side of the square after another: corners are kept where a x + b y ≤ half.
const SIDES = [
  [1, 0],
  [0, 1],
  [-1, 0],
  [0, -1],
] as const
const spare = emptyRings()

/**
 * The rings cut to the square of a half side about the pivot, for outlines of many corners of which few are near
 * (Sutherland and Hodgman's method). What runs along the square's sides adds nothing within them. Bounds, area and nearest
 * distance are left as they were. Writes into `out`, or gives back `rings` where it would not have fewer corners.
 */
export function cutRings(rings: ZoneRings, half: number, out: ZoneRings): ZoneRings {
  const corners = rings.starts[rings.starts.length - 1]!
  if (corners <= FEW) return rings
  if (rings.minX >= -half && rings.maxX <= half && rings.minY >= -half && rings.maxY <= half) return rings
  let from = rings
  for (let side = 0; side < SIDES.length; side++) {
    const to = side % 2 === 0 ? spare : out
    cutSide(from, SIDES[side]![0], SIDES[side]![1], half, to)
    from = to
  }
  out.areaM2 = rings.areaM2
  out.nearestM = rings.nearestM
  return out.starts[out.starts.length - 1]! < corners ? out : rings
}

const FEW = 14

function cutSide(from: ZoneRings, a: number, b: number, half: number, to: ZoneRings): void {
  to.starts.length = 1
  let next = 0
  const { x, y, starts } = from
  makeRoom(to, 2 * starts[starts.length - 1]! + starts.length)
  for (let ring = 0; ring + 1 < starts.length; ring++) {
    const first = next
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const over0 = a * x[i]! + b * y[i]! - half
      const over1 = a * x[i + 1]! + b * y[i + 1]! - half
      if (over0 <= 0) {
        to.x[next] = x[i]!
        to.y[next++] = y[i]!
      }
      if (over0 <= 0 !== over1 <= 0) {
        const t = over0 / (over0 - over1)
        to.x[next] = x[i]! + t * (x[i + 1]! - x[i]!)
        to.y[next++] = y[i]! + t * (y[i + 1]! - y[i]!)
      }
    }
    if (next - first < 3) {
      next = first
      continue
    }
    to.x[next] = to.x[first]!
    to.y[next++] = to.y[first]!
    to.starts.push(next)
  }
}
