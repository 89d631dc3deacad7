import type { ScenarioPart } from '@underbough/model'
import { type Arc, arcsByTrial } from './arcs.ts'
import { type Overlap, overlapAt } from './kernel/area.ts'
import { TOUCH_FLOOR_M2, touchingArcs } from './kernel/contact.ts'
import { ringSectorM2 } from './kernel/ring.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { type Silhouette, silhouetteReachM } from './silhouette.ts'
import { foreshortened, planShare, type Slope } from './slope.ts'
import type { ZoneRings } from './zone.ts'

/** What else bears on where a part comes down; nothing unless said. */
export interface FallConditions {
  part?: ScenarioPart
  /** Where it turns, metres east and north of the tree. */
  pivotM?: readonly [east: number, north: number]
  slope?: Slope | null
  /** Dead or brittle wood scatters beyond the reach. */
  brittle?: boolean
  /** Decides whether a shelter can carry it; not known: none is thought to. */
  stemDiameterCm?: number | null
  policy?: ExposurePolicy
}

/** A part that comes down: its outline at any angle and what holds of it everywhere. */
export interface Fall {
  silhouette: Silhouette
  slope: Slope | null
  scatter: ExposurePolicy['scatter'] | null
  /** Greatest distance from the pivot that anything reaches, scatter too, metres. */
  furthestM: number
  stemDiameterCm: number | null
  part: ScenarioPart
  policy: ExposurePolicy
}

export function fallOf(silhouette: Silhouette, conditions: FallConditions = {}): Fall {
  const policy = conditions.policy ?? defaultExposurePolicy
  const { beyond, coverage, chance } = policy.scatter
  const scatter = conditions.brittle && coverage > 0 && chance > 0 ? policy.scatter : null
  return {
    silhouette,
    slope: conditions.slope && conditions.slope.angleDeg > 0 ? conditions.slope : null,
    scatter,
    furthestM: silhouetteReachM(silhouette) * (scatter ? Math.max(1, beyond) : 1),
    stemDiameterCm: conditions.stemDiameterCm ?? null,
    part: conditions.part ?? 'whole-tree',
    policy,
  }
}

/** The outline as it shows in plan when it comes down towards an angle. */
export const silhouetteAt = ({ silhouette, slope }: Fall, angle: number): Silhouette =>
  slope ? foreshortened(silhouette, planShare(slope, angle)) : silhouette

/** Area of the zone within the ring where pieces scatter, square metres, before coverage. */
export function scatterM2(fall: Fall, zone: ZoneRings, angle: number): number {
  if (!fall.scatter) return 0
  const reach = silhouetteReachM(silhouetteAt(fall, angle))
  const half = (fall.scatter.halfAngleDeg * Math.PI) / 180
  return ringSectorM2(zone, reach, reach * fall.scatter.beyond, angle, half)
}

/** Angles at which the outline itself overlaps the zone: exact on level ground, by trial on a slope. */
export function bodyArcs(fall: Fall, zone: ZoneRings): Arc[] {
  if (zone.nearestM >= silhouetteReachM(fall.silhouette)) return []
  if (!fall.slope) return touchingArcs(fall.silhouette, zone)
  const out: Overlap = { stemM2: 0, crownM2: 0 }
  return arcsByTrial((angle) => {
    overlapAt(silhouetteAt(fall, angle), zone, Math.cos(angle), Math.sin(angle), out)
    return out.stemM2 + out.crownM2 > TOUCH_FLOOR_M2
  })
}

/** Angles at which the scatter ring overlaps the zone, by trial. */
export const scatterArcs = (fall: Fall, zone: ZoneRings): Arc[] =>
  fall.scatter && zone.nearestM < fall.furthestM
    ? arcsByTrial((angle) => scatterM2(fall, zone, angle) > TOUCH_FLOOR_M2)
    : []
