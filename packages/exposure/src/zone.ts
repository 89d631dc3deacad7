import { emptyRings, makeRoom, measureRings, type ZoneRings } from './kernel/rings.ts'
import type { HourClass } from './occupancy.ts'
import type { ShelterClass } from './policy.ts'

/** A target zone as one tree sees it: metres east and north of the tree. */
export interface ZoneAround {
  id: string
  /** As in GeoJSON's MultiPolygon: polygons, of rings (outer first, then holes), of [east, north]. Rings closed or not, in any turn. Polygons of one zone do not overlap. */
  polygons: readonly (readonly (readonly (readonly number[])[])[])[]
  /** Area of the whole zone, over which its people are spread; the polygons may be only the part near the tree. */
  areaM2: number
  hours: readonly HourClass[]
  /** A structure that is there always. */
  staticTarget: boolean
  /** The larger zone whose people these are part of. */
  partOf?: string | null
  /** People who come together; 1 unless said. */
  groupSize?: number
  /** A building that may stop a stem short of what lies behind it. Without a height it shelters nothing. */
  shelter?: { heightM: number; class: ShelterClass } | null
}

const ORIGIN = [0, 0]

/** Lays out polygons for the kernel about `pivot`, into `out` if given. Rings of fewer than three points or without area drop out. */
export function zoneRings(
  polygons: ZoneAround['polygons'],
  pivot: readonly number[] = ORIGIN,
  out: ZoneRings = emptyRings(),
): ZoneRings {
  out.starts.length = 1
  let next = 0
  for (const polygon of polygons)
    polygon.forEach((ring, place) => {
      const area = signedArea(ring)
      if (area === 0) return
      const keep = area > 0 === (place === 0)
      const n = openLength(ring)
      makeRoom(out, next + n + 1)
      for (let i = 0; i <= n; i++) {
        const point = ring[keep ? i % n : (n - i) % n]!
        out.x[next] = point[0]! - pivot[0]!
        out.y[next++] = point[1]! - pivot[1]!
      }
      out.starts.push(next)
    })
  measureRings(out)
  return out
}

function openLength(ring: readonly (readonly number[])[]): number {
  const last = ring[ring.length - 1]
  const closed = ring.length > 1 && last![0] === ring[0]![0] && last![1] === ring[0]![1]
  return closed ? ring.length - 1 : ring.length
}

function signedArea(ring: readonly (readonly number[])[]): number {
  let twice = 0
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++)
    twice += ring[j]![0]! * ring[i]![1]! - ring[i]![0]! * ring[j]![1]!
  return twice / 2
}

/** Whether a point lies within the rings (holes left out), by how often they wind about it; undecided on the line itself. */
export function contains(
  x: Float64Array,
  y: Float64Array,
  starts: readonly number[],
  px: number,
  py: number,
): boolean {
  let turns = 0
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const up = y[i + 1]! > py
      if (y[i]! > py === up) continue
      const at = x[i]! + ((py - y[i]!) / (y[i + 1]! - y[i]!)) * (x[i + 1]! - x[i]!)
      if (at > px) turns += up ? 1 : -1
    }
  return turns > 0
}
