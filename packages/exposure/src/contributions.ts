import { type Exposure, exposureOf } from './exposure.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import type { FallingTree } from './tree.ts'
import type { ZoneAround } from './zone.ts'

/** What is varied. `directions`: the reasons one alone at a time. */
export type ContributionInput =
  | 'height'
  | 'crown-radii'
  | 'crown-base'
  | 'stem-diameter'
  | 'body-half-width'
  | 'directions'
  | 'lean-concentration'
  | 'people'
  | 'group-size'
  | 'position'
  | 'shelter-residual'
  | 'scatter'

/** How far one input moves the figures when it alone runs over its plausible range. */
export interface Contribution {
  input: ContributionInput
  pTouch: Range
  people: Range
  pAny: Range
}

interface Range {
  least: number
  most: number
}

/**
 * Assumption, all of it: how far each input may plausibly be off. Shares of the value where nothing else is said. A height
 * that was measured is good to a tenth; numbers of people are seldom known to a factor of two.
 */
export const plausible = {
  height: 0.1,
  heightEstimated: 0.3,
  crownRadii: 0.2,
  crownBase: 0.25,
  stemDiameter: 0.05,
  bodyHalfWidthM: [0, 0.4],
  leanConcentration: [0.5, 2],
  people: [0.5, 2],
  /** Up to so many come together. */
  groupSize: 3,
  shelterResidual: [0.25, 1],
  scatterCoverage: [0.5, 2],
} as const

/**
 * What each assumption and input contributes: the joint figures with one input at a time at the ends of its range and all
 * others as they are, in the order of how far each moves `by`. Inputs that do not bear on this tree are left out. The figures
 * as they are lie within every range. Inputs that go together (height and crown, say) may move further together.
 */
export function contributionsOf(
  tree: FallingTree,
  zones: readonly ZoneAround[],
  options: {
    policy?: ExposurePolicy
    /** Of the tree's position, metres; left out: not varied. */
    accuracyM?: number | null
    by?: 'pTouch' | 'people' | 'pAny'
  } = {},
): Contribution[] {
  const policy = options.policy ?? defaultExposurePolicy
  const as = exposureOf(tree, zones, policy).joint
  const of = (changed: Partial<FallingTree>, other: Partial<ExposurePolicy> = {}, around = zones): Exposure =>
    exposureOf({ ...tree, ...changed }, around, { ...policy, ...other }).joint
  const got: Contribution[] = []
  const add = (input: ContributionInput, ...figures: Exposure[]) => got.push(rangeOf(input, [as, ...figures]))
  const both = (share: number, change: (factor: number) => Exposure) => [change(1 - share), change(1 + share)]

  const height = tree.heightEstimated ? plausible.heightEstimated : plausible.height
  add('height', ...both(height, (f) => of({ heightM: tree.heightM * f })))
  if (!tree.pole) {
    const radii = tree.crownRadiiM
    const scaled = (f: number) =>
      radii
        ? of({ crownRadiiM: { n: radii.n * f, e: radii.e * f, s: radii.s * f, w: radii.w * f } })
        : of({}, { crownRadiusShare: policy.crownRadiusShare * f })
    add('crown-radii', ...both(plausible.crownRadii, scaled))
    const base = tree.crownBaseHeightM ?? policy.crownBaseShare * tree.heightM
    add('crown-base', ...both(plausible.crownBase, (f) => of({ crownBaseHeightM: base * f })))
  }
  const stemCm = tree.stemDiameterCm ?? (100 * tree.heightM) / policy.slenderness
  add('stem-diameter', ...both(plausible.stemDiameter, (f) => of({ stemDiameterCm: stemCm * f })))
  add('body-half-width', ...plausible.bodyHalfWidthM.map((bodyHalfWidthM) => of({}, { bodyHalfWidthM })))
  got.push({
    input: 'directions',
    pTouch: { least: as.pTouch.least, most: as.pTouch.most },
    people: { least: as.people.least, most: as.people.most },
    pAny: as.pAnyRange,
  })
  if (tree.lean && tree.lean.angleDeg > 0 && tree.knownBearingDeg == null)
    add(
      'lean-concentration',
      ...plausible.leanConcentration.map((f) => {
        const { base, perDegree, most } = policy.leanConcentration
        return of({}, { leanConcentration: { base: base * f, perDegree: perDegree * f, most: most * f } })
      }),
    )
  const crowds = (f: number) =>
    zones.map((zone) => ({ ...zone, hours: zone.hours.map((h) => ({ ...h, people: h.people * f })) }))
  add('people', ...plausible.people.map((f) => of({}, {}, crowds(f))))
  add(
    'group-size',
    of(
      {},
      {},
      zones.map((zone) => ({ ...zone, groupSize: plausible.groupSize * (zone.groupSize ?? 1) })),
    ),
  )
  if (options.accuracyM) {
    const away = options.accuracyM
    const moved = (dx: number, dy: number) =>
      of(
        {},
        {},
        zones.map((zone) => ({
          ...zone,
          polygons: zone.polygons.map((rings) =>
            rings.map((ring) => ring.map(([x, y]) => [x! + dx, y! + dy])),
          ),
        })),
      )
    const round = Array.from({ length: 8 }, (_, i) => (i * Math.PI) / 4)
    add('position', ...round.map((a) => moved(away * Math.cos(a), away * Math.sin(a))))
  }
  if (zones.some((zone) => zone.shelter))
    add(
      'shelter-residual',
      ...plausible.shelterResidual.map((residual) => of({}, { shelter: { ...policy.shelter, residual } })),
    )
  if (tree.brittle)
    add(
      'scatter',
      ...plausible.scatterCoverage.map((f) =>
        of({}, { scatter: { ...policy.scatter, coverage: Math.min(1, policy.scatter.coverage * f) } }),
      ),
    )
  const by = options.by ?? 'pAny'
  return got.sort((a, b) => b[by].most - b[by].least - (a[by].most - a[by].least))
}

function rangeOf(input: ContributionInput, figures: readonly Exposure[]): Contribution {
  const range = (of: (e: Exposure) => number): Range => {
    const values = figures.map(of)
    return { least: Math.min(...values), most: Math.max(...values) }
  }
  return {
    input,
    pTouch: range((e) => e.pTouch.mean),
    people: range((e) => e.people.mean),
    pAny: range((e) => e.pAny),
  }
}
