import type { Position } from '@underbough/model'
import type { Geometry, Polygon } from 'geojson'
import type { Bounds } from './squares.ts'

/** True when a place lies inside an area, holes left out. Planar in degrees; fine for what fits on a screen. */
export function contains(area: Polygon, [x, y]: readonly number[]): boolean {
  let inside = false
  for (const ring of area.coordinates)
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [xi, yi] = ring[i] as [number, number]
      const [xj, yj] = ring[j] as [number, number]
      if (yi > y! !== yj > y! && x! < ((xj - xi) * (y! - yi)) / (yj - yi) + xi) inside = !inside
    }
  return inside
}

/** The box around a geometry; null when it has no coordinates. */
export function boundsOf(geometry: Geometry | null): Bounds | null {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity]
  const walk = (part: unknown): void => {
    if (!Array.isArray(part)) return
    if (typeof part[0] === 'number') {
      box[0] = Math.min(box[0], part[0])
      box[1] = Math.min(box[1], part[1])
      box[2] = Math.max(box[2], part[0])
      box[3] = Math.max(box[3], part[1])
    } else for (const p of part) walk(p)
  }
  if (geometry && 'coordinates' in geometry) walk(geometry.coordinates)
  return box[0] <= box[2] ? box : null
}

/** The middle of a box. */
export const middleOf = ([w, s, e, n]: Bounds): Position => [(w + e) / 2, (s + n) / 2]
