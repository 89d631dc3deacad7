import {
  type AreaGeometry,
  type Finding,
  type Position,
  planarBearingDeg,
  planeAt,
  type Tree,
  type Visit,
  type ZoneKind,
} from '@underbough/model'
import type { PortraitFinding, PortraitTarget, PortraitTree } from '@underbough/pictures'

/** A zone as an elevation needs it: how far, which way, how wide. Planar; zones within a tree's reach. */
export function targetOf(
  from: Position,
  zone: { name: string; kind: ZoneKind; geometry: AreaGeometry },
): PortraitTarget | null {
  const plane = planeAt(from[0], from[1])
  const rings =
    zone.geometry.type === 'Polygon' ? zone.geometry.coordinates : zone.geometry.coordinates.flat()
  let best: { distanceM: number; e: number; n: number } | null = null
  let west = Infinity
  let east = -Infinity
  for (const ring of rings) {
    const points = ring.map(([lon, lat]) => plane.toMetres(lon, lat))
    for (let i = 1; i < points.length; i++) {
      const near = nearestOnSide(points[i - 1]!, points[i]!)
      west = Math.min(west, points[i]![0])
      east = Math.max(east, points[i]![0])
      if (!best || near.distanceM < best.distanceM) best = near
    }
  }
  if (!best) return null
  const inside = rings.length > 0 && holdsOrigin(rings[0]!.map(([lon, lat]) => plane.toMetres(lon, lat)))
  return {
    name: zone.name,
    kind: zone.kind,
    distanceM: inside ? 0 : best.distanceM,
    bearingDeg: planarBearingDeg(best.e, best.n),
    widthM: Math.min(30, Math.max(1, east - west)),
  }
}

function nearestOnSide([ax, ay]: readonly [number, number], [bx, by]: readonly [number, number]) {
  const [dx, dy] = [bx - ax, by - ay]
  const t = Math.max(0, Math.min(1, -(ax * dx + ay * dy) / (dx * dx + dy * dy || 1)))
  const [e, n] = [ax + t * dx, ay + t * dy]
  return { distanceM: Math.hypot(e, n), e, n }
}

function holdsOrigin(points: readonly (readonly [number, number])[]): boolean {
  let inside = false
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const [xi, yi] = points[i]!
    const [xj, yj] = points[j]!
    if (yi > 0 !== yj > 0 && 0 < ((xj - xi) * -yi) / (yj - yi) + xi) inside = !inside
  }
  return inside
}

export const portraitTree = (tree: Tree): PortraitTree => ({
  heightM: tree.heightM,
  crownBaseHeightM: tree.crownBaseHeightM,
  crownRadiiM: tree.crownRadiiM,
  lean: tree.lean,
  stems: tree.stems,
  species: tree.species,
  commonName: tree.commonName,
  status: tree.status,
  group: tree.group,
})

/** Findings of the newest closed visit, numbered in the order of the looking sequence. */
export function findingsOf(visits: readonly Visit[]): PortraitFinding[] {
  const last = visits.find((visit) => visit.stage === 'closed')
  return (last?.findings ?? []).map((f: Pick<Finding, 'kind' | 'heightM' | 'bearingDeg'>, i) => ({
    number: i + 1,
    name: f.kind,
    heightM: f.heightM,
    bearingDeg: f.bearingDeg,
  }))
}
