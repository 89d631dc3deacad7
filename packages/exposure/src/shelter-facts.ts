import type { ShelterClass } from '@underbough/model'
import { FULL_TURN } from './bearing.ts'
import type { ZoneRings } from './kernel/rings.ts'
import { arrestOf } from './kernel/shelter.ts'
import type { ExposurePolicy } from './policy.ts'
import type { Silhouette } from './silhouette.ts'
import type { ZoneAround } from './zone.ts'
import { zoneRings } from './zone.ts'

/**
 * What a building within reach does to a falling stem. `stops`: wherever the stem meets it, it comes to rest on it with all its
 * length. `overhangs`: it comes to rest, and at some bearing hangs over. `too-thick`: its class cannot carry such a stem.
 * `not-known`: its height, its class or the stem's diameter is not on record, and nothing is taken to be stopped.
 */
export interface ShelterFacts {
  zoneId: string
  does: 'stops' | 'overhangs' | 'too-thick' | 'not-known'
  heightM: number | null
  class: ShelterClass | null
  /** Nearest wall, metres in plan. */
  nearM: number
  /** Greatest length beyond its far wall, metres; 0 where none hangs over. */
  overhangM: number
  /** Thickest stem its class carries, cm; null where the class is not known. */
  carriesCm: number | null
}

const BEARINGS = 180

/** Facts of the structures within reach, nearest first; the one the tree stands in shelters nothing and is left out. */
export function shelterFactsOf(
  silhouette: Silhouette,
  stemDiameterCm: number | null,
  zones: readonly (ZoneAround & { heightM: number | null; class: ShelterClass | null })[],
  policy: ExposurePolicy,
): ShelterFacts[] {
  const lengthM = silhouette.kind === 'crowned' ? silhouette.centreM + silhouette.alongM : silhouette.lengthM
  return zones
    .flatMap((zone): ShelterFacts[] => {
      const rings = zoneRings(zone.polygons)
      const { nearestM: nearM } = rings
      if ((!zone.staticTarget && !zone.heightM) || nearM <= 0 || nearM >= lengthM) return []
      const carriesCm = zone.class ? policy.shelter.carriesCm[zone.class] : null
      const { heightM } = zone
      const facts = { zoneId: zone.id, heightM, class: zone.class, nearM, carriesCm, overhangM: 0 }
      if (!heightM || carriesCm === null || stemDiameterCm === null) return [{ ...facts, does: 'not-known' }]
      if (stemDiameterCm > carriesCm) return [{ ...facts, does: 'too-thick' }]
      const overhangM = overhangOver(rings, lengthM, heightM)
      return [{ ...facts, overhangM, does: overhangM > 0 ? 'overhangs' : 'stops' }]
    })
    .sort((a, b) => a.nearM - b.nearM)
}

function overhangOver(rings: ZoneRings, lengthM: number, heightM: number): number {
  let most = 0
  for (let i = 0; i < BEARINGS; i++) {
    const [near, far] = alongRay(rings, (i * FULL_TURN) / BEARINGS)
    if (near !== undefined && far !== undefined && near < lengthM)
      most = Math.max(most, arrestOf(lengthM, near, far, heightM).overhangM)
  }
  return most
}

/** Distances from the tree at which a ray enters and leaves the outline first. */
function alongRay({ x, y, starts }: ZoneRings, angle: number): (number | undefined)[] {
  const cos = Math.cos(angle)
  const sin = Math.sin(angle)
  const across = (i: number) => y[i]! * cos - x[i]! * sin
  const along = (i: number) => x[i]! * cos + y[i]! * sin
  const places: number[] = []
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const [a, b] = [across(i), across(i + 1)]
      if (a > 0 === b > 0) continue
      const at = along(i) + (a / (a - b)) * (along(i + 1) - along(i))
      if (at > 0) places.push(at)
    }
  return places.sort((a, b) => a - b)
}
