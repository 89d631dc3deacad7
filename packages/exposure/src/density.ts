import { angleFromBearing, FULL_TURN } from './bearing.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import type { FallingTree } from './tree.ts'

/** Why a tree may fall in a direction. `known` stands alone. */
export type LobeKind = 'even' | 'lean' | 'crown' | 'clearing' | 'wind' | 'known'

/** One reason on its own: a density over fall angles (radians counter-clockwise from east), and its share of the whole. */
export interface Lobe {
  kind: LobeKind
  /** Share of the mixture; the lobes of a tree sum to 1. */
  weight: number
  /** Circular normals it is made of; none: all directions alike. */
  parts: { share: number; angle: number; concentration: number; scale: number }[]
}

/** Modified Bessel function I₀(k) times e^−k, by its series; k up to a few hundred. */
function besselScaled(k: number): number {
  let term = Math.exp(-k)
  let sum = term
  for (let i = 1; i < 1000; i++) {
    term *= (k / 2 / i) ** 2
    sum += term
    if (i > k && term < 1e-17 * sum) break
  }
  return sum
}

let lastRose: { rose: readonly number[]; concentration: number; parts: Lobe['parts'] } | null = null

/** The trees of a site share one rose, and its parts are made once. */
function roseParts(rose: readonly number[], concentration: number): Lobe['parts'] {
  const last = lastRose
  if (
    last?.concentration === concentration &&
    last.rose.length === rose.length &&
    last.rose.every((share, i) => share === rose[i])
  )
    return last.parts
  const gusts = rose.reduce((sum, share) => sum + share, 0)
  const parts = rose.flatMap((share, i) =>
    share > 0 ? [part(share / gusts, (i * 360) / rose.length + 180, concentration)] : [],
  )
  lastRose = { rose: [...rose], concentration, parts }
  return parts
}

const part = (share: number, bearingDeg: number, concentration: number) => ({
  share,
  angle: angleFromBearing(bearingDeg),
  concentration,
  scale: share / (FULL_TURN * besselScaled(concentration)),
})

/** Density of one lobe at an angle, per radian. */
export function lobeAt(lobe: Lobe, angle: number): number {
  if (lobe.parts.length === 0) return 1 / FULL_TURN
  let sum = 0
  for (const p of lobe.parts) sum += p.scale * Math.exp(p.concentration * (Math.cos(angle - p.angle) - 1))
  return sum
}

/** Density of the whole mixture at an angle, per radian. */
export const densityAt = (lobes: readonly Lobe[], angle: number): number =>
  lobes.reduce((sum, lobe) => sum + lobe.weight * lobeAt(lobe, angle), 0)

/**
 * The reasons a tree has to fall one way or another, weighted by the policy. A known direction replaces all of them.
 * Wind roses say where gusts come from: the tree falls the other way.
 */
export function lobesOf(tree: FallingTree, policy: ExposurePolicy = defaultExposurePolicy): Lobe[] {
  if (tree.knownBearingDeg !== null && tree.knownBearingDeg !== undefined)
    return [{ kind: 'known', weight: 1, parts: [part(1, tree.knownBearingDeg, policy.knownConcentration)] }]
  const weights = policy.directionWeights
  const lobes: Lobe[] = [{ kind: 'even', weight: weights.even, parts: [] }]
  const add = (kind: Exclude<LobeKind, 'known'>, parts: Lobe['parts']) => {
    if (weights[kind] > 0) lobes.push({ kind, weight: weights[kind], parts })
  }
  if (tree.lean && tree.lean.angleDeg > 0) {
    const { base, perDegree, most } = policy.leanConcentration
    add('lean', [part(1, tree.lean.bearingDeg, Math.min(most, base + perDegree * tree.lean.angleDeg))])
  }
  const side = heavierSide(tree)
  if (side && side.share > policy.crownEvenBelow)
    add('crown', [part(1, side.bearingDeg, policy.crownConcentrationPerUnit * side.share)])
  if (tree.clearingBearingDeg !== null)
    add('clearing', [part(1, tree.clearingBearingDeg, policy.clearingConcentration)])
  const gusts = tree.windRose?.reduce((sum, share) => sum + share, 0) ?? 0
  if (tree.windRose && gusts > 0) add('wind', roseParts(tree.windRose, policy.windConcentration))
  const total = lobes.reduce((sum, lobe) => sum + lobe.weight, 0)
  return lobes.map((lobe) => ({ ...lobe, weight: lobe.weight / total })).filter((lobe) => lobe.weight > 0)
}

const SAMPLES = 72

/** Chance per degree of a tree's fall towards each of 72 bearings: 0, 5, 10 … 355. */
export function densityPerDegOf(tree: FallingTree, policy: ExposurePolicy = defaultExposurePolicy): number[] {
  const lobes = lobesOf(tree, policy)
  return Array.from(
    { length: SAMPLES },
    (_, i) => (densityAt(lobes, angleFromBearing((i * 360) / SAMPLES)) * FULL_TURN) / 360,
  )
}

/** Where the crown hangs over: the sum of the four radii as arrows, as a share of their lengths together. */
function heavierSide(tree: FallingTree): { bearingDeg: number; share: number } | null {
  const r = tree.crownRadiiM
  const total = r ? r.n + r.e + r.s + r.w : 0
  if (!r || total === 0) return null
  const east = r.e - r.w
  const north = r.n - r.s
  return { bearingDeg: (Math.atan2(east, north) * 180) / Math.PI, share: Math.hypot(east, north) / total }
}
