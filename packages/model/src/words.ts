/** The trade's words, in order from least to worst where they have an order. */

export const failureWords = ['improbable', 'possible', 'probable', 'imminent'] as const
export const impactWords = ['very low', 'low', 'medium', 'high'] as const
export const jointWords = ['unlikely', 'somewhat likely', 'likely', 'very likely'] as const
export const consequenceWords = ['negligible', 'minor', 'significant', 'severe'] as const
export const riskWords = ['low', 'moderate', 'high', 'extreme'] as const
export const occupancyWords = ['rare', 'occasional', 'frequent', 'constant'] as const
/** What stands between the part that fails and the target: nothing, something, or enough to stop it. */
export const protectionWords = ['none', 'partial', 'full'] as const
/** Size of the part that may fail, smallest first. Limits in rating (policy). */
export const partSizeWords = ['small', 'medium', 'large'] as const
/** How fast the tree's condition is expected to change, slowest first. */
export const changeWords = ['slow', 'ordinary', 'fast'] as const

/** Likelihood of failure within the stated time frame; `imminent` overrides the time frame. */
export type FailureWord = (typeof failureWords)[number]
/** Likelihood that the failed part meets the target. */
export type ImpactWord = (typeof impactWords)[number]
/** Likelihood of failure and impact together. */
export type JointWord = (typeof jointWords)[number]
export type ConsequenceWord = (typeof consequenceWords)[number]
export type RiskWord = (typeof riskWords)[number]
/** How much of the day somebody or something is there. */
export type OccupancyWord = (typeof occupancyWords)[number]
export type ProtectionWord = (typeof protectionWords)[number]
export type PartSizeWord = (typeof partSizeWords)[number]
export type ChangeWord = (typeof changeWords)[number]

export const zoneKinds = ['building', 'road', 'footpath', 'play', 'seating', 'parking', 'utility'] as const
/** What a target zone is. `play` is a play area, `seating` a bench, gazebo or bandstand, `utility` lines and plant. */
export type ZoneKind = (typeof zoneKinds)[number]

export const groundFeatureKinds = ['path', 'road', 'water', 'green', 'land', 'fence', 'building'] as const
export type GroundFeatureKind = (typeof groundFeatureKinds)[number]

export const treeStatuses = ['standing', 'pole', 'stump', 'gone'] as const
/** `pole`: a standing stem kept for habitat. `gone`: the tree keeps its place and all its records. */
export type TreeStatus = (typeof treeStatuses)[number]

export const roles = ['manager', 'officer', 'inspector', 'client'] as const
export type Role = (typeof roles)[number]

/** 1 limited visual, 2 basic, 3 advanced. */
export const visitLevels = [1, 2, 3] as const
export type VisitLevel = (typeof visitLevels)[number]

/** The looking sequence, outside-in. A visit answers all seven. */
export const lookingSteps = [
  'surroundings',
  'beyond-roots',
  'root-zone',
  'base',
  'stem',
  'main-branches',
  'twigs-leaves',
] as const
export type LookingStep = (typeof lookingSteps)[number]
export const lookingStepNames: Record<LookingStep, string> = {
  surroundings: 'Surroundings',
  'beyond-roots': 'Beyond the roots',
  'root-zone': 'Root zone',
  base: 'Base',
  stem: 'Stem',
  'main-branches': 'Main branches',
  'twigs-leaves': 'Twigs and leaves',
}

export const stepResults = ['nothing-found', 'findings', 'not-seen'] as const
export type StepResult = (typeof stepResults)[number]

export const leafStates = ['in-leaf', 'out-of-leaf', 'part-leaf', 'evergreen'] as const
export type LeafState = (typeof leafStates)[number]

export const protections = ['preservation-order', 'conservation-area', 'habitat'] as const
export type Protection = (typeof protections)[number]

export const scenarioParts = ['whole-tree', 'stem', 'limb'] as const
/** Whole tree at the root plate, stem at a height, or a limb. */
export type ScenarioPart = (typeof scenarioParts)[number]

export const workKinds = [
  'prune',
  'reduce',
  'remove',
  'brace',
  'move-target',
  'close-area',
  'monitor',
  'look-deeper',
] as const
export type WorkKind = (typeof workKinds)[number]
export const workStates = ['proposed', 'approved', 'done', 'refused'] as const
export type WorkState = (typeof workStates)[number]

export const decisionAnswers = ['accepted', 'refused', 'deferred'] as const
export type DecisionAnswer = (typeof decisionAnswers)[number]

export const probeKinds = [
  'core',
  'drill-trace',
  'sounding',
  'fracture-test',
  'laboratory',
  'opening',
  'cut',
  'outline',
] as const
/**
 * What was done to learn about the wood at one height: a core bored out, resistance to a drill, sounding with a mallet, a core broken
 * piece by piece, a laboratory's answer, an opening measured from outside, the shell measured at a cut, the outline measured.
 */
export type ProbeKind = (typeof probeKinds)[number]

/** Wood along a reading. `stained` is discoloured and still firm; `softened-brittle` snaps short, `softened-fibrous` bends; `void` is missing. */
export const woodConditions = ['sound', 'stained', 'softened-brittle', 'softened-fibrous', 'void'] as const
export type WoodCondition = (typeof woodConditions)[number]

/** What a core does between the fingers. */
export const coreManners = ['flexes', 'snaps', 'crumbles'] as const
export type CoreManner = (typeof coreManners)[number]

/** Place of `word` in its ordered list, 0 for the least. Throws on a word of another list. */
export function rank<T extends string>(list: readonly T[], word: T): number {
  const i = list.indexOf(word)
  if (i < 0) throw new RangeError(`“${word}” is not one of: ${list.join(', ')}`)
  return i
}
