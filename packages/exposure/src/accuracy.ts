import { type Exposure, exposureOf, exposureOfSilhouette, falling, type Ringed } from './exposure.ts'
import { gaussRule } from './kernel/rules.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import type { FallingTree } from './tree.ts'
import type { ZoneAround } from './zone.ts'

/** A figure over all places at which the tree may stand: their mean, and the least and most among those tried. */
export interface OverPlaces extends Ringed {
  /** The figure at the recorded place. */
  here: number
}

/** What a position that is not exact does to the figures of one zone, or of all together. */
export interface PlaceExposure {
  pTouch: OverPlaces
  people: OverPlaces
  pAny: OverPlaces
}

const RINGS = 3
const ROUND = 12
const rule = gaussRule(RINGS)

/** Places over a disc of radius 1 with their weights (product rule, exact for polynomials of degree 5 in the plane), and its rim. */
const PLACES = [
  ...Array.from({ length: RINGS * ROUND }, (_, i) => {
    const ring = Math.floor(i / ROUND)
    const angle = (2 * Math.PI * ((i % ROUND) + ring / RINGS)) / ROUND
    const radius = Math.sqrt(rule.at[ring]!)
    return { x: radius * Math.cos(angle), y: radius * Math.sin(angle), weight: rule.weight[ring]! / ROUND }
  }),
  ...Array.from({ length: ROUND }, (_, i) => {
    const angle = (2 * Math.PI * i) / ROUND
    return { x: Math.cos(angle), y: Math.sin(angle), weight: 0 }
  }),
]

/**
 * The figures of a whole tree over the circle that its position's accuracy draws, every place in it alike (Assumption). Means
 * are taken at 36 places, ranges at these and 12 on the rim and at the recorded place. The mean is good to about 0.01 of a
 * chance where zones are not much smaller than the circle, and to less the smaller they are; the range may leave out places
 * between. Throws RangeError unless `accuracyM` is 0 or more.
 */
export function exposureOverPlaces(
  tree: FallingTree,
  zones: readonly ZoneAround[],
  accuracyM: number,
  policy: ExposurePolicy = defaultExposurePolicy,
): { zones: (PlaceExposure & { id: string })[]; joint: PlaceExposure } {
  if (!(accuracyM >= 0)) throw new RangeError('an accuracy is 0 m or more')
  const here = exposureOf(tree, zones, policy)
  const { fall, lobes } = falling(tree, policy)
  const there = PLACES.map(({ x, y, weight }) => ({
    weight,
    ...exposureOfSilhouette(fall.silhouette, lobes, zones, {
      slope: tree.slope ?? null,
      brittle: tree.brittle ?? false,
      stemDiameterCm: tree.stemDiameterCm,
      policy,
      pivotM: [accuracyM * x, accuracyM * y],
    }),
  }))
  const over = (own: Exposure, at: (i: number) => Exposure): PlaceExposure => {
    const figure = (of: (e: Exposure) => number): OverPlaces => {
      const values = there.map((_, i) => of(at(i)))
      return {
        here: of(own),
        mean: values.reduce((sum, value, i) => sum + there[i]!.weight * value, 0),
        least: Math.min(of(own), ...values),
        most: Math.max(of(own), ...values),
      }
    }
    return {
      pTouch: figure((e) => e.pTouch.mean),
      people: figure((e) => e.people.mean),
      pAny: figure((e) => e.pAny),
    }
  }
  return {
    zones: here.zones.map((zone, z) => ({ id: zone.id, ...over(zone, (i) => there[i]!.zones[z]!) })),
    joint: over(here.joint, (i) => there[i]!.joint),
  }
}
