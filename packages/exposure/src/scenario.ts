import type { Scenario, ScenarioPart } from '@underbough/model'
import { angleFromBearing } from './bearing.ts'
import { type Lobe, lobesOf } from './density.ts'
import { type ExposureFlag, flag } from './flags.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { type Silhouette, silhouetteOf } from './silhouette.ts'
import type { FallingTree } from './tree.ts'

/** What fails and what the inspector knows of it, as a rating's scenario has it; the rest is taken from the tree. */
export interface FailingPart extends Pick<Scenario, 'part' | 'knownBearingDeg'> {
  /** Limb: its own length, metres. */
  lengthM?: number | null
  /** Limb: its diameter at the union. */
  diameterCm?: number | null
  /** Stem: how far the inspector judges it to reach from the tree's foot, metres. */
  reachM?: number | null
}

/** A failing part as it comes down. */
export interface FallingPart {
  part: ScenarioPart
  silhouette: Silhouette
  lobes: Lobe[]
  /** Where it turns, metres east and north of the tree. */
  pivotM: readonly [east: number, north: number]
  flags: ExposureFlag[]
}

/**
 * The outline and the directions of a scenario's part. Whole tree: see `silhouetteOf`. Stem: the reach is the full length
 * from the base or the inspector's figure, whichever is more, wherever it breaks: a part that hinges lands further than
 * its own length. Limb: all within its half width of its own length about the union, not a disc of that length; how high
 * the union sits does not matter in plan. A known bearing replaces the tree's other reasons; a limb without one may
 * come down any way about its union, for nothing of the tree as a whole says where.
 */
export function fallingPartOf(
  tree: FallingTree,
  scenario: FailingPart,
  policy: ExposurePolicy = defaultExposurePolicy,
): FallingPart {
  const { part, knownBearingDeg } = scenario
  const directed = { ...tree, knownBearingDeg: knownBearingDeg ?? tree.knownBearingDeg ?? null }
  const whole = silhouetteOf(tree, policy)
  if (part === 'limb') return limbOf(tree, scenario, policy)
  const silhouette =
    part === 'stem' && scenario.reachM ? atLeastReaching(whole.silhouette, scenario.reachM) : whole.silhouette
  return { part, silhouette, lobes: lobesOf(directed, policy), pivotM: [0, 0], flags: whole.flags }
}

/** The same outline with its top carried out to a reach, if that is further. */
function atLeastReaching(s: Silhouette, reachM: number): Silhouette {
  const far = s.kind === 'crowned' ? s.centreM + s.alongM : s.lengthM
  const more = Math.max(0, reachM - far)
  return s.kind === 'crowned' ? { ...s, centreM: s.centreM + more } : { ...s, lengthM: s.lengthM + more }
}

function limbOf(tree: FallingTree, limb: FailingPart, policy: ExposurePolicy): FallingPart {
  const stemCm = tree.stemDiameterCm ?? (100 * tree.heightM) / policy.slenderness
  const lengthM =
    limb.lengthM ??
    Math.max(SHORTEST_LIMB_M, policy.limb.lengthShare * crownRadiusM(tree, limb.knownBearingDeg, policy))
  const diameterCm = limb.diameterCm ?? policy.limb.diameterShare * stemCm
  const angle = limb.knownBearingDeg === null ? null : angleFromBearing(limb.knownBearingDeg)
  const out = angle === null ? 0 : stemCm / 200
  return {
    part: 'limb',
    silhouette: { kind: 'capsule', lengthM, halfWidthM: diameterCm / 200 + policy.bodyHalfWidthM },
    lobes: lobesOf({ ...NO_REASONS, knownBearingDeg: limb.knownBearingDeg }, policy),
    // The union of a limb whose side is known sits on that side of the stem.
    pivotM: angle === null ? [0, 0] : [out * Math.cos(angle), out * Math.sin(angle)],
    flags: limb.lengthM == null || limb.diameterCm == null ? [flag('limb-assumed')] : [],
  }
}

const SHORTEST_LIMB_M = 0.5

const NO_REASONS: FallingTree = {
  heightM: 1,
  stemDiameterCm: null,
  crownBaseHeightM: null,
  crownRadiiM: null,
  lean: null,
  clearingBearingDeg: null,
}

/** Crown radius towards a bearing, between the two of the four nearest it; the widest where no bearing is known. */
function crownRadiusM(tree: FallingTree, bearingDeg: number | null, policy: ExposurePolicy): number {
  if (!tree.crownRadiiM) return tree.heightM * policy.crownRadiusShare
  const { n, e, s, w } = tree.crownRadiiM
  if (bearingDeg === null) return Math.max(n, e, s, w)
  const radii = [n, e, s, w]
  const quarter = (((bearingDeg % 360) + 360) % 360) / 90
  const from = Math.floor(quarter)
  return radii[from % 4]! + (radii[(from + 1) % 4]! - radii[from % 4]!) * (quarter - from)
}
