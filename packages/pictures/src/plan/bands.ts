import { pathOf, polar } from '../draw/geometry.ts'
import type { RoseZone } from './describe-rose.ts'

/** A band of a ring from one bearing to another, as short chords so that patterns keep upright. */
export function bandPath(
  cx: number,
  cy: number,
  inner: number,
  width: number,
  { fromDeg, toDeg }: { fromDeg: number; toDeg: number },
): string {
  const span = Math.min(360, Math.max(0.5, toDeg - fromDeg))
  const steps = Math.max(1, Math.ceil(span / 3))
  const bearings = Array.from({ length: steps + 1 }, (_, i) => fromDeg + (span * i) / steps)
  const ring = (r: number) => bearings.map((b) => polar(cx, cy, r, b))
  return pathOf([...ring(inner + width), ...ring(inner).reverse()], true)
}

/** Zones whose bearings overlap stand in lanes one outside the other. */
export function lanesOf(zones: readonly RoseZone[]): { of: number[]; count: number } {
  const taken: { fromDeg: number; toDeg: number }[][] = []
  const of = zones.map((zone) => {
    let lane = taken.findIndex((arcs) => !zone.touchingBearings.some((a) => arcs.some((b) => overlaps(a, b))))
    if (lane < 0) lane = taken.push([]) - 1
    taken[lane]!.push(...zone.touchingBearings)
    return lane
  })
  return { of, count: taken.length }
}

const overlaps = (a: { fromDeg: number; toDeg: number }, b: { fromDeg: number; toDeg: number }): boolean =>
  [-360, 0, 360].some((turn) => a.fromDeg + turn < b.toDeg + 4 && b.fromDeg < a.toDeg + turn + 4)
