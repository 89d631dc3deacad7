import type { LookingStep, PartSizeWord, ScenarioPart, WorkKind } from '@underbough/model'

/** Where a finding sits: on the ground about the tree, at the foot of its stem, higher on it, or in its crown. */
export type Place = 'around' | 'foot' | 'stem' | 'crown'

/** One thing that may be found at a step: a tap instead of typing. Common practice, no source; the words are ours. */
export interface FindingKind {
  kind: string
  step: LookingStep
  /** The part that may fail because of it; null where it only bears on the tree's condition. */
  part: ScenarioPart | null
  /** Size of that part as a first proposal. */
  partSize: PartSizeWord
  /** What is asked for its extent. */
  extent: string
  /** What is usually proposed for it, in words; null where nothing is. */
  work: { kind: WorkKind; words: string } | null
}

const of = (
  step: LookingStep,
  kind: string,
  extent: string,
  part: ScenarioPart | null = null,
  partSize: PartSizeWord = 'large',
  work: [WorkKind, string] | null = null,
): FindingKind => ({
  kind,
  step,
  part,
  partSize,
  extent,
  work: work && { kind: work[0], words: work[1] },
})

export const findingKinds: readonly FindingKind[] = [
  of('surroundings', 'New use under the tree', 'what, and how far from the stem'),
  of('surroundings', 'Neighbouring tree lost', 'which side, how far away'),
  of('surroundings', 'New building or works', 'what, and how far from the stem'),
  of('surroundings', 'Wind or light changed', 'from which side'),
  of('beyond-roots', 'Trench, filled', 'length and distance from the stem, m', null, 'large', [
    'monitor',
    'Look again after two growing seasons',
  ]),
  of('beyond-roots', 'Ground raised or lowered', 'by how many cm, over how many m²'),
  of('beyond-roots', 'Water standing', 'over how many m²'),
  of('beyond-roots', 'New paving', 'm², and distance from the stem'),
  of('root-zone', 'Root cut', 'how many, how thick in cm', 'whole-tree', 'large', [
    'reduce',
    'Reduce the crown to what the roots still hold',
  ]),
  of('root-zone', 'Soil cracked or lifted', 'length and width in cm', 'whole-tree', 'large', [
    'look-deeper',
    'Watch the root plate move, with instruments',
  ]),
  of('root-zone', 'Lifted pavement', 'cm high, over how many m'),
  of('root-zone', 'Soil packed hard', 'm² around the stem', null, 'large', [
    'move-target',
    'Mulch the root zone and lead the trodden path round it',
  ]),
  of('root-zone', 'Fungus at the roots', 'cm across, how many', 'whole-tree', 'large', [
    'look-deeper',
    'Open the root collar and sound the roots',
  ]),
  of('base', 'Bracket fungus', 'cm across; live or dead edge', 'whole-tree', 'large', [
    'look-deeper',
    'Drill at the base and map the sound wood',
  ]),
  of('base', 'Cavity', 'wide × tall × deep, cm', 'whole-tree', 'large', [
    'reduce',
    'Reduce the crown by 3 m',
  ]),
  of('base', 'Bark wound', 'wide × tall, cm'),
  of('base', 'Sounds hollow', 'how much of the girth', 'whole-tree', 'large', [
    'look-deeper',
    'Drill at the base and map the sound wood',
  ]),
  of('base', 'Root wound round the stem', 'how much of the girth', 'whole-tree'),
  of('stem', 'Opening', 'tall × wide, cm', 'stem', 'large', ['reduce', 'Reduce the crown by 3 m']),
  of('stem', 'Crack', 'length in cm; opens in wind?', 'stem', 'large', [
    'reduce',
    'Reduce the end weight above the crack',
  ]),
  of('stem', 'Bracket fungus', 'cm across; live or dead edge', 'stem', 'large', [
    'look-deeper',
    'Drill at the bracket and map the sound wood',
  ]),
  of('stem', 'Bulge or seam', 'tall × wide, cm', 'stem'),
  of('stem', 'Canker', 'tall × wide, cm', 'stem'),
  of('stem', 'Lean increased', 'degrees now', 'whole-tree', 'large', [
    'look-deeper',
    'Measure the lean at a mark and again in a month',
  ]),
  of('main-branches', 'Dead limb', 'thickness in cm, length in m', 'limb', 'medium', [
    'prune',
    'Take out the dead limb',
  ]),
  of('main-branches', 'Hanging limb', 'thickness in cm, length in m', 'limb', 'medium', [
    'prune',
    'Take down the hanging limb',
  ]),
  of('main-branches', 'Tight fork, bark inside', 'how many stems, cm of bark drawn in', 'stem', 'large', [
    'brace',
    'Brace the fork and reduce both stems',
  ]),
  of('main-branches', 'Crack at a union', 'length in cm', 'limb', 'large', ['prune', 'Shorten the limb']),
  of('main-branches', 'Long heavy limb', 'thickness in cm, length in m', 'limb', 'medium', [
    'reduce',
    'Shorten the limb by 2 m',
  ]),
  of('main-branches', 'Decayed pruning wound', 'cm across, depth in cm', 'limb', 'medium', [
    'prune',
    'Shorten the limb to a sound side branch',
  ]),
  of('twigs-leaves', 'Dieback', 'share of the outer crown, %', 'limb', 'small', [
    'monitor',
    'Compare the crown in leaf next year',
  ]),
  of('twigs-leaves', 'Thin crown', 'share that can be seen through, %', null, 'small', [
    'monitor',
    'Compare the crown in leaf next year',
  ]),
  of('twigs-leaves', 'Dead twigs', 'thickness in cm', 'limb', 'small', [
    'prune',
    'Take out dead wood over 4 cm',
  ]),
  of('twigs-leaves', 'Leaves small or pale', 'which part of the crown'),
  of('twigs-leaves', 'Pest or disease', 'what, and how much of the crown'),
]

export const kindsAt = (step: LookingStep): FindingKind[] => findingKinds.filter((kind) => kind.step === step)
/** What the list knows of a finding; null for one in the inspector's own words. */
export const kindOf = (finding: { step: LookingStep; kind: string }): FindingKind | null =>
  findingKinds.find((kind) => kind.step === finding.step && kind.kind === finding.kind) ?? null

export const placeOf = (step: LookingStep): Place =>
  step === 'base'
    ? 'foot'
    : step === 'stem'
      ? 'stem'
      : step === 'main-branches' || step === 'twigs-leaves'
        ? 'crown'
        : 'around'

/** Why a step could not be seen: what usually stands in the way. */
export const notSeenReasons: Record<LookingStep, readonly string[]> = {
  surroundings: ['Fog or dark', 'No leave to enter'],
  'beyond-roots': ['Private ground', 'Fence or wall', 'Works closed off'],
  'root-zone': ['Paved over', 'Plants cover it', 'Private ground', 'A parked car'],
  base: ['Ivy', 'Shoots round the base', 'A wall hides it', 'A parked car'],
  stem: ['Ivy', 'A building hides one side', 'Shoots hide it'],
  'main-branches': ['Leaves', 'Ivy', 'A building hides one side', 'Fog or dark'],
  'twigs-leaves': ['Out of leaf', 'A building hides one side', 'Against the light', 'Fog or dark'],
}

/** How a step is asked for, in one line. */
export const stepHints: Record<LookingStep, string> = {
  surroundings: 'Who and what is here; what changed since the last look.',
  'beyond-roots': 'Ground, water and works outside the crown’s edge.',
  'root-zone': 'Under the crown: soil, roots, paving, what grows.',
  base: 'All the way round the foot; sound it.',
  stem: 'All sides, up to the first branches.',
  'main-branches': 'Unions, forks, limbs; from more than one side.',
  'twigs-leaves': 'Tips, leaves, dead wood; against the sky.',
}
