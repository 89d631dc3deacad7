import {
  addDays,
  type ChangeWord,
  type CivilDate,
  type ConsequenceWord,
  type FailureWord,
  type FindingInput,
  type OccupancyWord,
  type PartSizeWord,
  type Position,
  type Rating,
  type RatingInput,
  type Refusal,
  type RiskWord,
  rank,
  riskWords,
  type Scenario,
  type ScenarioTarget,
  type Tree,
  type WorkInput,
  type ZoneKind,
} from '@underbough/model'
import {
  type DeadlineWord,
  jointLikelihood,
  type Policy,
  proposeImpact,
  type RatedTarget,
  type RatedTree,
  rateTree,
  riskOf,
} from '@underbough/rating'
import type { ZoneExposureView } from '../api/index.ts'
import { targetOf } from '../ground/targets.ts'
import { kindOf } from './kinds.ts'

export interface TargetDraft extends Omit<ScenarioTarget, 'consequences'> {
  /** The trade's word for the use of the zone, from which the likelihood of impact is proposed. */
  occupancy: OccupancyWord
  consequences: ConsequenceWord | null
}
/** A scenario while it is judged: the failure word may be open. `from` says what proposed it. */
export interface ScenarioDraft extends Omit<Scenario, 'failure' | 'targets'> {
  failure: FailureWord | null
  from: 'finding' | 'earlier' | 'usual' | 'own'
  targets: TargetDraft[]
}
export interface RatingDraft {
  id: string
  changeRate: ChangeWord
  scenarios: ScenarioDraft[]
  overrideRisk: RiskWord | null
  overrideReason: string
  residualRisk: RiskWord | null
}

/** A zone within reach with its occupancy word. */
export interface Near {
  zoneId: string | null
  name: string
  kind: ZoneKind | null
  word: OccupancyWord
  /** Nearest edge from the stem, metres; 0 under the tree. */
  distanceM: number
}

/** The zones of an exposure, the heaviest first, with their distance. Planar. */
export function nearOf(
  position: Position,
  zones: readonly ZoneExposureView[],
  wordOf: ReadonlyMap<string, OccupancyWord>,
): Near[] {
  return zones.map((zone) => ({
    zoneId: zone.zoneId,
    name: zone.name,
    kind: zone.kind,
    word: wordOf.get(zone.zoneId) ?? 'rare',
    distanceM: zone.geometry ? (targetOf(position, { ...zone, geometry: zone.geometry })?.distanceM ?? 0) : 0,
  }))
}

/** What is proposed where no zone lies in reach: somebody may still pass. */
const nobody: Near = { zoneId: null, name: 'Ground under the tree', kind: null, word: 'rare', distanceM: 0 }
/** Assumption: at most so many targets are proposed for one scenario; more can be added. */
const MOST_TARGETS = 3
/** Assumption: a limb comes down within the crown and this much beyond, metres. */
const BEYOND_CROWN_M = 1.5

const crownReachM = (tree: Pick<Tree, 'crownRadiiM' | 'heightM'>) =>
  tree.crownRadiiM ? Math.max(...Object.values(tree.crownRadiiM)) : (tree.heightM ?? 10) * 0.2

/** Assumption: a first word for the consequences by what falls and on what; the inspector says the last one. */
export function proposeConsequences(size: PartSizeWord, kind: ZoneKind | null): ConsequenceWord {
  const things = kind === 'parking' || kind === 'utility'
  if (size === 'small') return things || kind === 'building' ? 'negligible' : 'minor'
  if (size === 'medium') return things || kind === 'building' ? 'minor' : 'significant'
  return things ? 'significant' : 'severe'
}

export function targetDraft(near: Near, size: PartSizeWord): TargetDraft {
  const { impact } = proposeImpact(near.word, 'none')
  return {
    zoneId: near.zoneId,
    targetName: near.name,
    occupancy: near.word,
    protection: 'none',
    proposedImpact: impact,
    impact,
    impactReason: '',
    consequences: proposeConsequences(size, near.kind),
  }
}

/** Targets of a part, from the zones it can reach. */
export function proposeTargets(
  part: Scenario['part'],
  size: PartSizeWord,
  tree: Pick<Tree, 'crownRadiiM' | 'heightM'>,
  near: readonly Near[],
): TargetDraft[] {
  const within =
    part === 'limb' ? near.filter((z) => z.distanceM <= crownReachM(tree) + BEYOND_CROWN_M) : near
  const chosen = within.slice(0, MOST_TARGETS)
  return (chosen.length > 0 ? chosen : [nobody]).map((zone) => targetDraft(zone, size))
}

/** Words for what a finding may lead to, one sentence to be mended. */
function describe(finding: FindingInput, part: Scenario['part']): string {
  const at = finding.heightM === null ? '' : `, ${finding.heightM} m up`
  const kind = finding.kind.charAt(0).toLowerCase() + finding.kind.slice(1)
  if (part === 'whole-tree') return `The whole tree falls: ${kind}${at}.`
  if (part === 'stem') return `The stem breaks: ${kind}${at}.`
  return `A limb comes down: ${kind}${at}.`
}

/** Assumption: two places on a stem nearer than this are taken for one, metres. */
const SAME_PLACE_M = 1.5
const samePlace = (a: number | null, b: number | null) =>
  a === null || b === null || Math.abs(a - b) <= SAME_PLACE_M

/**
 * Scenarios to begin with. What the rating in force named is carried on with its words, so that nothing falls silent by
 * being left out; what was found today and is not among them comes after, its failure word open; with neither, the tree as a
 * whole, improbable. The proposed likelihood of impact is worked out afresh from today's zones.
 */
export function proposeScenarios(given: {
  findings: readonly FindingInput[]
  earlier: Rating | null
  tree: Pick<Tree, 'crownRadiiM' | 'heightM'>
  near: readonly Near[]
  newId: () => string
}): ScenarioDraft[] {
  const { findings, earlier, tree, near, newId } = given
  const carried = (earlier?.scenarios ?? []).map((s): ScenarioDraft => carry(s, near, newId()))
  const found: ScenarioDraft[] = []
  for (const finding of findings) {
    const kind = kindOf(finding)
    const part = kind ? kind.part : partOfStep[finding.step]
    if (!part) continue
    const known = [...carried, ...found].some(
      (s) => s.part === part && (part === 'whole-tree' || samePlace(s.heightM, finding.heightM)),
    )
    if (known) continue
    const partSize = kind?.partSize ?? 'medium'
    found.push({
      id: newId(),
      from: 'finding',
      part,
      partSize,
      heightM: part === 'whole-tree' ? null : finding.heightM,
      description: describe(finding, part),
      failure: null,
      knownBearingDeg: null,
      targets: proposeTargets(part, partSize, tree, near),
    })
  }
  const all = [...carried, ...found]
  return all.length > 0 ? all : [usualScenario(tree, near, newId())]
}

/** What an inspector's own word at a step points to. */
const partOfStep: Record<FindingInput['step'], Scenario['part'] | null> = {
  surroundings: null,
  'beyond-roots': null,
  'root-zone': 'whole-tree',
  base: 'whole-tree',
  stem: 'stem',
  'main-branches': 'limb',
  'twigs-leaves': null,
}

function usualScenario(
  tree: Pick<Tree, 'crownRadiiM' | 'heightM'>,
  near: readonly Near[],
  id: string,
): ScenarioDraft {
  return {
    id,
    from: 'usual',
    part: 'whole-tree',
    partSize: 'large',
    heightM: null,
    description: 'The whole tree falls; nothing was found that makes it likelier than in other trees.',
    failure: 'improbable',
    knownBearingDeg: null,
    targets: proposeTargets('whole-tree', 'large', tree, near),
  }
}

function carry(scenario: Scenario, near: readonly Near[], id: string): ScenarioDraft {
  return {
    ...scenario,
    id,
    from: 'earlier',
    targets: scenario.targets.map((target) => {
      const zone = near.find((n) => n.zoneId !== null && n.zoneId === target.zoneId)
      const word = zone?.word ?? null
      const proposedImpact = word ? proposeImpact(word, target.protection).impact : target.proposedImpact
      return { ...target, proposedImpact, occupancy: word ?? 'rare' }
    }),
  }
}

/** A protection said: the likelihood of impact is proposed anew, and follows unless a person put another word with a reason. */
export function withProtection(target: TargetDraft, protection: TargetDraft['protection']): TargetDraft {
  const proposedImpact =
    target.zoneId === null && target.protection === protection
      ? target.proposedImpact
      : proposeImpact(target.occupancy, protection).impact
  const follows = target.impact === target.proposedImpact
  return { ...target, protection, proposedImpact, impact: follows ? proposedImpact : target.impact }
}

const whole = (scenario: ScenarioDraft): Scenario | null => {
  const { from: _, ...rest } = scenario
  if (rest.failure === null || rest.targets.some((t) => t.consequences === null)) return null
  return {
    ...rest,
    failure: rest.failure,
    targets: rest.targets.map(({ occupancy: _o, consequences, ...t }) => ({
      ...t,
      consequences: consequences as ConsequenceWord,
    })),
  }
}

/** The rating as the office takes it, or null while a word is open. */
export function ratingOf(
  draft: RatingDraft,
  of: { treeId: string; visitId: string; timeFrameYears: number },
): RatingInput | null {
  const scenarios = draft.scenarios.map(whole)
  if (scenarios.some((s) => s === null)) return null
  return {
    id: draft.id,
    ...of,
    changeRate: draft.changeRate,
    scenarios: scenarios as Scenario[],
    overrideRisk: draft.overrideRisk,
    overrideReason: draft.overrideReason,
    residualRisk: draft.residualRisk,
  }
}

/** Where the judgement stands: rated by the office's own rule, or what is missing, each at its place in the form. */
export type Judged =
  | { rated: RatedTree; refusals: Refusal[] }
  | { rated: null; refusals: Refusal[]; openWords: number }

export function judge(draft: RatingDraft, of: Parameters<typeof ratingOf>[1]): Judged {
  const input = ratingOf(draft, of)
  if (!input) return { rated: null, refusals: [], openWords: openWords(draft) }
  const result = rateTree(input)
  return result.ok
    ? { rated: result.value, refusals: [] }
    : { rated: null, refusals: result.refusals, openWords: 0 }
}
/** Words nobody has said yet. */
export const openWords = (draft: RatingDraft): number =>
  draft.scenarios.reduce(
    (sum, s) => sum + (s.failure === null ? 1 : 0) + s.targets.filter((t) => t.consequences === null).length,
    0,
  )

/** Path of one scenario's worst target, from what is said so far; null while a word is open. Reasons may still be missing. */
export function worstOf(scenario: ScenarioDraft): RatedTarget | null {
  const all = scenario.targets.flatMap((target): RatedTarget[] => {
    if (!scenario.failure || !target.consequences) return []
    const joint = jointLikelihood(scenario.failure, target.impact)
    return [
      {
        scenarioId: scenario.id,
        targetName: target.targetName,
        failure: scenario.failure,
        impact: target.impact,
        joint,
        consequences: target.consequences,
        risk: riskOf(joint, target.consequences),
      },
    ]
  })
  return all.length === 0
    ? null
    : all.reduce((a, b) => (rank(riskWords, b.risk) > rank(riskWords, a.risk) ? b : a))
}

/** Imminent is urgent the moment it is said, before any other word; extreme is, once the words give it. */
export function isUrgent(draft: RatingDraft | null): boolean {
  if (!draft) return false
  if (draft.overrideRisk === 'extreme') return true
  return draft.scenarios.some((s) => s.failure === 'imminent' || worstOf(s)?.risk === 'extreme')
}

interface WorksAsked {
  findings: readonly FindingInput[]
  rating: RatingDraft
  policy: Policy | null
  today: CivilDate
  treeId: string
  visitId: string
  newId: () => string
}
const failingAway: Record<Scenario['part'], [WorkInput['kind'], string]> = {
  limb: ['prune', 'Take down the failing limb'],
  stem: ['remove', 'Take the stem down to where it holds'],
  'whole-tree': ['remove', 'Take the tree down'],
}

/**
 * Works that usually follow: what is imminent comes away first, by its own deadline; then one for each finding on the list that
 * leads to a scenario of moderate risk or more, by the deadline of that risk.
 */
export function proposeWorks(asked: WorksAsked): WorkInput[] {
  const { findings, rating, policy, today, treeId, visitId, newId } = asked
  const works: WorkInput[] = []
  const add = (kind: WorkInput['kind'], description: string, word: DeadlineWord) => {
    if (works.some((work) => work.description === description)) return
    const dueOn = policy ? addDays(today, policy.workDays[word]) : null
    works.push({ id: newId(), treeId, visitId, kind, description, dueOn, cost: null, residualRisk: null })
  }
  for (const scenario of rating.scenarios)
    if (scenario.failure === 'imminent') add(...failingAway[scenario.part], 'imminent')
  for (const finding of findings) {
    const kind = kindOf(finding)
    if (!kind?.work || !kind.part) continue
    const scenario = rating.scenarios.find(
      (s) => s.part === kind.part && (s.part === 'whole-tree' || samePlace(s.heightM, finding.heightM)),
    )
    const risk = scenario && worstOf(scenario)?.risk
    if (!risk || risk === 'low' || scenario.failure === 'imminent') continue
    add(kind.work.kind, kind.work.words, risk)
  }
  return works
}

/** The last day for work on what is imminent, where no work is proposed that early; null where all is well or nothing is. */
export function tooLate(
  rating: RatingDraft | null,
  works: readonly WorkInput[],
  policy: Policy | null,
  today: CivilDate,
): CivilDate | null {
  if (!policy || !rating?.scenarios.some((s) => s.failure === 'imminent')) return null
  const last = addDays(today, policy.workDays.imminent)
  return works.some((work) => work.dueOn !== null && work.dueOn <= last) ? null : last
}
