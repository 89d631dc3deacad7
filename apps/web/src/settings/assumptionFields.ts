import { type ExposurePolicy, exposurePolicyLimits } from '@underbough/exposure'

/** One figure that an organisation may set: where it stands in the policy, and how a person reads it. */
export interface AssumedField {
  path: string
  what: string
  unit: string
  /** The stored figure times this is what a person reads and types. */
  times: number
}
export interface AssumedFieldGroup {
  title: string
  says: string
  fields: readonly AssumedField[]
}

const field = (path: string, what: string, unit: string): AssumedField => ({
  path,
  what,
  unit,
  times: unit === '%' ? 100 : 1,
})

/** The editable figures in groups; every figure of the policy stands in exactly one. */
export const assumedFields: readonly AssumedFieldGroup[] = [
  {
    title: 'What falls, where nobody measured it',
    says: 'Marked as assumed wherever it is used.',
    fields: [
      field('bodyHalfWidthM', 'Half a person’s width, added to the stem on both sides', 'm'),
      field('crownBaseShare', 'Height of the crown’s base, of the tree’s', '%'),
      field('crownRadiusShare', 'Crown radius, of the tree’s height', '%'),
      field('slenderness', 'Height over stem diameter', 'times'),
      field('limb.lengthShare', 'Length of a limb, of the crown radius on its side', '%'),
      field('limb.diameterShare', 'Diameter of a limb, of the stem’s', '%'),
    ],
  },
  {
    title: 'Which way it falls',
    says: 'Weights of what may turn a fall: what gives no reason at a tree drops out, the rest are scaled to one. A higher tightness holds a fall closer to its direction; 0 is any way.',
    fields: [
      field('directionWeights.even', 'Weight of any way', 'parts'),
      field('directionWeights.lean', 'Weight of the lean', 'parts'),
      field('directionWeights.crown', 'Weight of the heavier side of the crown', 'parts'),
      field('directionWeights.clearing', 'Weight of a clearing', 'parts'),
      field('directionWeights.wind', 'Weight of the wind', 'parts'),
      field('leanConcentration.base', 'About a lean: begins at', 'tightness'),
      field('leanConcentration.perDegree', 'About a lean: more for each degree', 'tightness'),
      field('leanConcentration.most', 'About a lean: at most', 'tightness'),
      field('crownConcentrationPerUnit', 'Towards the heavier side, all of the crown on it', 'tightness'),
      field('crownEvenBelow', 'One-sidedness below which a crown counts as even', '%'),
      field('clearingConcentration', 'Towards a clearing', 'tightness'),
      field('windConcentration', 'Downwind of a direction of the rose', 'tightness'),
      field('knownConcentration', 'About a direction the inspector knows', 'tightness'),
    ],
  },
  {
    title: 'Dead and brittle wood',
    says: 'Pieces thrown beyond the reach. The trade’s figure for dead trees is 1.5 times; the rest is ours.',
    fields: [
      field('scatter.beyond', 'As far as', 'times its reach'),
      field('scatter.halfAngleDeg', 'To either side of the fall', 'degrees'),
      field('scatter.coverage', 'Share of that ground the pieces cover', '%'),
      field('scatter.chance', 'Chance that it scatters at all', '%'),
    ],
  },
  {
    title: 'What a building stops',
    says: 'Only a building whose height and make are on record, and that can carry the stem.',
    fields: [
      field('shelter.residual', 'Left of the figures behind it where the stem hangs over', '%'),
      field('shelter.least', 'Left where the whole length comes to rest', '%'),
      field('shelter.carriesCm.masonry', 'Thickest stem that masonry carries', 'cm'),
      field('shelter.carriesCm.frame', 'Thickest stem that a frame carries', 'cm'),
      field('shelter.carriesCm.light', 'Thickest stem that a light roof carries', 'cm'),
      field(
        'shelter.penetration.whole-tree',
        'People inside who are as exposed as outside: a whole tree',
        '%',
      ),
      field('shelter.penetration.stem', 'The same: a stem', '%'),
      field('shelter.penetration.limb', 'The same: a limb', '%'),
    ],
  },
  {
    title: 'Roads',
    says: 'From seeing a fallen tree to standing. The first two are those that road engineers design by (AASHTO); length and queue are ours.',
    fields: [
      field('road.reactionS', 'A driver reacts after', 'seconds'),
      field('road.decelerationMps2', 'And slows by', 'm/s²'),
      field('road.vehicleLengthM', 'Length of a vehicle', 'm'),
      field('road.queuePerKm', 'Vehicles standing in a queue, one lane', 'in each km'),
    ],
  },
  {
    title: 'Ground',
    says: 'At and above it what falls slides or rolls on, and no figure bounds how far.',
    fields: [field('slideFrom', 'Steepness, as rise over run', '%')],
  },
]

type Branch = { [key: string]: unknown }
const at = (value: unknown, path: string): unknown =>
  path.split('.').reduce<unknown>((branch, key) => (branch as Branch | undefined)?.[key], value)

const tidy = (x: number) => Number(x.toPrecision(12))

/** The figure as a person reads it; null while it is empty. */
export function shownFigure(policy: ExposurePolicy, { path, times }: AssumedField): number | null {
  const value = at(policy, path)
  return typeof value === 'number' ? tidy(value * times) : null
}

/** The policy with another figure; the one given stays as it was. */
export function withFigure(
  policy: ExposurePolicy,
  { path, times }: AssumedField,
  shown: number | null,
): ExposurePolicy {
  const put = (branch: unknown, [key, ...rest]: string[]): unknown =>
    key === undefined
      ? shown === null
        ? null
        : tidy(shown / times)
      : { ...(branch as Branch), [key]: put((branch as Branch)[key], rest) }
  return put(policy, path.split('.')) as ExposurePolicy
}

/** `0 to 100`: what may be entered, as a person reads it. */
export function sayLimits({ path, times }: AssumedField): string {
  const [least, most] = at(exposurePolicyLimits, path) as readonly [number, number]
  return `${tidy(least * times)} to ${tidy(most * times)}`
}

/** Every figure in which two policies differ, in a person's words. */
export const changedFigures = (from: ExposurePolicy, to: ExposurePolicy): AssumedField[] =>
  assumedFields.flatMap(({ fields }) => fields).filter(({ path }) => at(from, path) !== at(to, path))
