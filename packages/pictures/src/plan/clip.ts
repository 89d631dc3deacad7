import type { Point } from '../draw/geometry.ts'

/** A rectangle in the plane: least and greatest east and north, metres. */
export interface Window {
  west: number
  south: number
  east: number
  north: number
}

/** A ring cut to a window, side by side; empty when nothing lies within. */
export function clipRing(ring: readonly Point[], window: Window): Point[] {
  const sides: [(p: Point) => number, (a: Point, b: Point, t: number) => Point][] = [
    [(p) => p[0] - window.west, between],
    [(p) => window.east - p[0], between],
    [(p) => p[1] - window.south, between],
    [(p) => window.north - p[1], between],
  ]
  let left: Point[] = [...ring]
  for (const [inside, at] of sides) {
    const before = left
    left = []
    before.forEach((b, i) => {
      const a = before[(i + before.length - 1) % before.length]!
      const [da, db] = [inside(a), inside(b)]
      if (da >= 0 !== db >= 0) left.push(at(a, b, da / (da - db)))
      if (db >= 0) left.push(b)
    })
  }
  return left
}

const between = (a: Point, b: Point, t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t]

/** Middle of a ring for its name: its centroid, or the mean of its corners where it has no area. */
export function middleOf(ring: readonly Point[]): Point {
  let [area, x, y] = [0, 0, 0]
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!
    const cross = a[0] * b[1] - b[0] * a[1]
    area += cross
    x += (a[0] + b[0]) * cross
    y += (a[1] + b[1]) * cross
  })
  if (Math.abs(area) < 1e-6)
    return [
      ring.reduce((s, p) => s + p[0], 0) / ring.length,
      ring.reduce((s, p) => s + p[1], 0) / ring.length,
    ]
  return [x / (3 * area), y / (3 * area)]
}
