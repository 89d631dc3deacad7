import { angleFromBearing } from './bearing.ts'
import { type ExposureFlag, flag } from './flags.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import type { FallingTree } from './tree.ts'

/**
 * The outline that lies on the ground after a fall, in its own frame: u along the fall from the pivot, v across, metres.
 * `strip`: 0 ≤ u ≤ length, |v| ≤ half width. `capsule`: all within the half width of the line from 0 to length.
 * `crowned`: a strip up to the crown's centre, with an ellipse about it (semi-axes along u and across it); the ellipse
 * never reaches behind the pivot (along ≤ centre).
 */
export type Silhouette =
  | { kind: 'strip'; lengthM: number; halfWidthM: number }
  | { kind: 'capsule'; lengthM: number; halfWidthM: number }
  | { kind: 'crowned'; halfWidthM: number; centreM: number; alongM: number; acrossM: number }

// The crown of a tree whose base was entered too high still has some depth.
const HIGHEST_BASE_SHARE = 0.95
// Thinner than this there is no crown to speak of, and an ellipse without width has no outline to meet.
const LEAST_CROWN_M = 0.01

/**
 * The silhouette of a whole tree, and what had to be assumed for it. Length is H / cos(lean); the crown runs from its base
 * to the top, and is as wide as the mean of the four radii at every bearing. The body's half width is added to the stem
 * alone: the edge of a crown is not known to 25 cm.
 */
export function silhouetteOf(
  tree: FallingTree,
  policy: ExposurePolicy = defaultExposurePolicy,
): { silhouette: Silhouette; flags: ExposureFlag[] } {
  const flags: ExposureFlag[] = []
  const assume = (code: ExposureFlag['code'], value: number) => {
    flags.push(flag(code))
    return value
  }
  if (tree.heightEstimated) flags.push(flag('height-estimated'))
  const lengthM = tree.heightM / Math.cos(((tree.lean?.angleDeg ?? 0) * Math.PI) / 180)
  const stemM =
    tree.stemDiameterCm !== null
      ? tree.stemDiameterCm / 100
      : assume('stem-assumed', tree.heightM / policy.slenderness)
  const halfWidthM = stemM / 2 + policy.bodyHalfWidthM
  if (tree.pole) return { silhouette: { kind: 'strip', lengthM, halfWidthM }, flags }

  const radii = tree.crownRadiiM
  const acrossM = radii
    ? (radii.n + radii.e + radii.s + radii.w) / 4
    : assume('crown-radii-assumed', tree.heightM * policy.crownRadiusShare)
  if (!(acrossM > LEAST_CROWN_M)) return { silhouette: { kind: 'strip', lengthM, halfWidthM }, flags }
  let baseM = tree.crownBaseHeightM ?? assume('crown-base-assumed', tree.heightM * policy.crownBaseShare)
  if (baseM > lengthM * HIGHEST_BASE_SHARE)
    baseM = assume('crown-base-above-top', lengthM * HIGHEST_BASE_SHARE)
  const alongM = (lengthM - baseM) / 2
  return { silhouette: { kind: 'crowned', halfWidthM, centreM: lengthM - alongM, alongM, acrossM }, flags }
}

/** Greatest distance from the pivot that the silhouette reaches, metres. 1 × height is the trade's convention, not a limit. */
export function silhouetteReachM(s: Silhouette): number {
  if (s.kind === 'strip') return Math.hypot(s.lengthM, s.halfWidthM)
  if (s.kind === 'capsule') return s.lengthM + s.halfWidthM
  const { centreM: c, alongM: p, acrossM: q } = s
  const stemEnd = Math.hypot(c, s.halfWidthM)
  // A crown wider than long can reach furthest beside its axis.
  const cos = q > p ? Math.min(1, (c * p) / (q * q - p * p)) : 1
  return Math.max(stemEnd, Math.hypot(c + p * cos, q * Math.sqrt(1 - cos * cos)))
}

/** Area of the silhouette, square metres. */
export function silhouetteAreaM2(s: Silhouette): number {
  if (s.kind === 'strip') return 2 * s.halfWidthM * s.lengthM
  if (s.kind === 'capsule') return 2 * s.halfWidthM * s.lengthM + Math.PI * s.halfWidthM ** 2
  const w = Math.min(1, s.halfWidthM / s.acrossM)
  const shared = s.alongM * s.acrossM * (w * Math.sqrt(1 - w * w) + Math.asin(w))
  return 2 * s.halfWidthM * s.centreM + Math.PI * s.alongM * s.acrossM - shared
}

/** How far a tree reaches if it falls whole, metres in plan from its foot. */
export function reachOf(tree: FallingTree, policy: ExposurePolicy = defaultExposurePolicy): number {
  return silhouetteReachM(silhouetteOf(tree, policy).silhouette)
}

const ARC_STEPS = 48

/** The silhouette fallen towards a bearing (degrees clockwise from true north): a closed ring of [east, north] metres from the tree. */
export function outlineAt(
  tree: FallingTree,
  bearingDeg: number,
  policy: ExposurePolicy = defaultExposurePolicy,
): [east: number, north: number][] {
  return silhouetteRing(silhouetteOf(tree, policy).silhouette, angleFromBearing(bearingDeg))
}

/** Any silhouette turned to an angle (radians counter-clockwise from east), as a closed counter-clockwise ring; arcs in `steps` chords. */
export function silhouetteRing(
  s: Silhouette,
  angle: number,
  steps: number = ARC_STEPS,
): [east: number, north: number][] {
  const cos = Math.cos(angle)
  const sin = Math.sin(angle)
  const turned = bodyRing(s, steps).map(([u, v]): [number, number] => [u * cos - v * sin, u * sin + v * cos])
  return [...turned, turned[0]!]
}

function bodyRing(s: Silhouette, steps: number): [number, number][] {
  const w = s.halfWidthM
  if (s.kind === 'strip')
    return [
      [0, -w],
      [s.lengthM, -w],
      [s.lengthM, w],
      [0, w],
    ]
  if (s.kind === 'capsule')
    return [
      ...arc(s.lengthM, w, w, -Math.PI / 2, Math.PI / 2, steps),
      ...arc(0, w, w, Math.PI / 2, (3 * Math.PI) / 2, steps),
    ]
  // Where the crown's edge leaves the stem; a crown narrower than the stem shows only its front.
  const from = s.acrossM > w ? Math.PI - Math.asin(w / s.acrossM) : Math.PI / 2
  const crown = arc(s.centreM, s.alongM, s.acrossM, -from, from, steps)
  const shoulders: [number, number][] =
    s.acrossM > w
      ? []
      : [
          [s.centreM, w],
          [s.centreM, -w],
        ]
  return [[0, w], [0, -w], ...shoulders.slice(1), ...crown, ...shoulders.slice(0, 1)]
}

function arc(centre: number, along: number, across: number, from: number, to: number, steps: number) {
  return Array.from({ length: steps + 1 }, (_, i): [number, number] => {
    const t = from + ((to - from) * i) / steps
    return [centre + along * Math.cos(t), across * Math.sin(t)]
  })
}
