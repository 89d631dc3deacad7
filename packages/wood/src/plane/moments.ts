import type { PlanePoint } from '../section/types.ts'

/** Area, centroid and second moments about the centroid. Units: those of the points, to the second and fourth power. */
export interface Moments {
  area: number
  centroid: PlanePoint
  /** ∫(x−x̄)², ∫(y−ȳ)², ∫(x−x̄)(y−ȳ) over the area. */
  xx: number
  yy: number
  xy: number
}

/** Running sums of signed triangles with the origin; `moments` turns them into figures about the centroid. */
export interface MomentSum {
  area: number
  x: number
  y: number
  xx: number
  yy: number
  xy: number
}
export const noMoments = (): MomentSum => ({ area: 0, x: 0, y: 0, xx: 0, yy: 0, xy: 0 })

/** Adds one edge of an outline (Green's theorem). Edges counter-clockwise count as wood, clockwise as none. */
export function addEdge(sum: MomentSum, x0: number, y0: number, x1: number, y1: number): void {
  const cross = x0 * y1 - x1 * y0
  sum.area += cross / 2
  sum.x += ((x0 + x1) * cross) / 6
  sum.y += ((y0 + y1) * cross) / 6
  sum.xx += ((x0 * x0 + x0 * x1 + x1 * x1) * cross) / 12
  sum.yy += ((y0 * y0 + y0 * y1 + y1 * y1) * cross) / 12
  sum.xy += ((x0 * y1 + 2 * x0 * y0 + 2 * x1 * y1 + x1 * y0) * cross) / 24
}

/** Figures about the centroid, or null where no area is left. */
export function momentsOf(sum: MomentSum): Moments | null {
  const sign = sum.area < 0 ? -1 : 1
  const area = sum.area * sign
  if (!(area > 0)) return null
  const x = (sum.x * sign) / area
  const y = (sum.y * sign) / area
  return {
    area,
    centroid: [x, y],
    xx: sum.xx * sign - area * x * x,
    yy: sum.yy * sign - area * y * y,
    xy: sum.xy * sign - area * x * y,
  }
}

/**
 * Moments of an area given by rings: the first outer, later ones of the opposite turning sense are holes. Each ring at least three
 * points, not closed by a repeated first point. Null where the area is zero.
 */
export function polygonMoments(rings: readonly (readonly PlanePoint[])[]): Moments | null {
  const sum = noMoments()
  for (const ring of rings) {
    let from = ring[ring.length - 1]!
    for (const to of ring) {
      addEdge(sum, from[0], from[1], to[0], to[1])
      from = to
    }
  }
  return momentsOf(sum)
}
