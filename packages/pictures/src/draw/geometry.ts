import { seededNumbers } from '@underbough/model'
import { n } from './shape.ts'

export type Point = readonly [x: number, y: number]

export const radians = (degrees: number): number => (degrees * Math.PI) / 180
export const degrees = (angle: number): number => (angle * 180) / Math.PI
/** The same bearing from 0 to below 360. */
export const wrapBearing = (bearingDeg: number): number => ((bearingDeg % 360) + 360) % 360

/** The point at a distance and bearing (clockwise from up, which is north) from a centre, y growing downwards. */
export const polar = (cx: number, cy: number, r: number, bearingDeg: number): Point => [
  cx + r * Math.sin(radians(bearingDeg)),
  cy - r * Math.cos(radians(bearingDeg)),
]

/** A straight-edged path through points. */
export const pathOf = (points: readonly Point[], close = false): string =>
  points.length === 0 ? '' : `M${points.map(([x, y]) => `${n(x)} ${n(y)}`).join('L')}${close ? 'Z' : ''}`

/** A circular arc clockwise from one bearing to another. A whole turn needs a circle. */
export function arcPath(cx: number, cy: number, r: number, fromDeg: number, toDeg: number): string {
  const [x0, y0] = polar(cx, cy, r, fromDeg)
  const [x1, y1] = polar(cx, cy, r, toDeg)
  const large = wrapBearing(toDeg - fromDeg) > 180 ? 1 : 0
  return `M${n(x0)} ${n(y0)}A${n(r)} ${n(r)} 0 ${large} 1 ${n(x1)} ${n(y1)}`
}

/** A smooth path through points (each span a cubic whose handles lie along the chord of its neighbours). */
export function smoothPath(points: readonly Point[], close = true, pull = 0.5): string {
  const count = points.length
  if (count < 3) return pathOf(points, close)
  const at = (i: number): Point =>
    points[close ? (i + count) % count : Math.max(0, Math.min(count - 1, i))] as Point
  let d = `M${n(at(0)[0])} ${n(at(0)[1])}`
  for (let i = 0; i < (close ? count : count - 1); i++) {
    const [a, b, c, e] = [at(i - 1), at(i), at(i + 1), at(i + 2)]
    const t = pull / 3
    const first = `${n(b[0] + (c[0] - a[0]) * t)} ${n(b[1] + (c[1] - a[1]) * t)}`
    const second = `${n(c[0] - (e[0] - b[0]) * t)} ${n(c[1] - (e[1] - b[1]) * t)}`
    d += `C${first} ${second} ${n(c[0])} ${n(c[1])}`
  }
  return close ? `${d}Z` : d
}

/** Leaves and twigs stay where they are from one showing to the next. */
export const drawsFrom = seededNumbers
