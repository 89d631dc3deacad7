import type { ScenarioPart } from '@underbough/model'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { type Silhouette, silhouetteReachM } from './silhouette.ts'
import { foreshortened, planShare, type Slope } from './slope.ts'

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

/** How far the outline reaches in plan towards an angle, metres. */
export const reachAtM = ({ silhouette, slope }: Fall, angle: number): number =>
  silhouetteReachM(slope ? foreshortened(silhouette, planShare(slope, angle)) : silhouette)
