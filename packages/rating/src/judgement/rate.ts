import {
  type ConsequenceWord,
  consequenceWords,
  done,
  type FailureWord,
  failureWords,
  type ImpactWord,
  type JointWord,
  jointWords,
  type Outcome,
  type PartSizeWord,
  type RatingInput,
  type Refusal,
  type RiskWord,
  rank,
  refusal,
  refused,
  riskWords,
  type Scenario,
} from '@underbough/model'
import { jointLikelihood, matrices, riskOf } from './matrices.ts'

/** Raised when the way a rating is computed changes; a rating keeps the one it was made with. */
export const methodVersion = 'rating-1'

/** One failing part and one target, with the path of words that leads to its risk. */
export interface RatedTarget {
  scenarioId: string
  targetName: string
  failure: FailureWord
  impact: ImpactWord
  joint: JointWord
  consequences: ConsequenceWord
  risk: RiskWord
}

export interface RatedScenarios {
  /** Highest risk; among equals the higher joint likelihood, consequences, failure, then the first entered. */
  worst: RatedTarget
  /** Every scenario with every target, in the order entered. */
  all: RatedTarget[]
}

/**
 * Rates every scenario against every target. Refuses a rating without a scenario (`rating-no-scenario`), a scenario without
 * a target (`rating-no-target`) and an impact that differs from the proposed one without a reason (`override-no-reason`).
 */
export function rateScenarios(scenarios: readonly Scenario[]): Outcome<RatedScenarios> {
  const faults = scenarioFaults(scenarios)
  if (faults.length > 0) return refused(...faults)
  const all = scenarios.flatMap((scenario) =>
    scenario.targets.map((target): RatedTarget => {
      const joint = jointLikelihood(scenario.failure, target.impact)
      return {
        scenarioId: scenario.id,
        targetName: target.targetName,
        failure: scenario.failure,
        impact: target.impact,
        joint,
        consequences: target.consequences,
        risk: riskOf(joint, target.consequences),
      }
    }),
  )
  return done({ worst: all.reduce((worst, next) => (worseThan(next, worst) ? next : worst)), all })
}

function scenarioFaults(scenarios: readonly Scenario[]): Refusal[] {
  if (scenarios.length === 0) return [refusal('rating-no-scenario', 'scenarios')]
  return scenarios.flatMap((scenario, s) => {
    if (scenario.targets.length === 0) return [refusal('rating-no-target', `scenarios.${s}.targets`)]
    return scenario.targets.flatMap((target, t) =>
      target.impact === target.proposedImpact || target.impactReason.trim() !== ''
        ? []
        : [
            refusal('override-no-reason', `scenarios.${s}.targets.${t}.impactReason`, {
              value: target.impact,
              message: `The proposal is ${target.proposedImpact}; say why you put ${target.impact}.`,
            }),
          ],
    )
  })
}

function worseThan(a: RatedTarget, b: RatedTarget): boolean {
  const ranks = (r: RatedTarget) => [
    rank(riskWords, r.risk),
    rank(jointWords, r.joint),
    rank(consequenceWords, r.consequences),
    rank(failureWords, r.failure),
  ]
  const other = ranks(b)
  const step = ranks(a)
    .map((n, i) => n - other[i]!)
    .find((n) => n !== 0)
  return step !== undefined && step > 0
}

export interface RatedTree extends RatedScenarios {
  computedRisk: RiskWord
  /** The override where there is one, else the computed risk. Both are kept. */
  risk: RiskWord
  overridden: boolean
  /** Worst failure word of any scenario, whether or not that scenario carries the worst risk. */
  worstFailure: FailureWord
  /** Size of the part in the worst scenario. */
  partSize: PartSizeWord
  /** Imminent failure, or extreme risk said (computed, it takes imminent failure): the urgent note comes first. An override never takes this away. */
  urgent: boolean
  /** Why it is urgent, one sentence; null where it is not. */
  urgentBecause: string | null
  matricesEdition: string
  methodVersion: string
}

/**
 * The rating of a tree from what the inspector entered. An override that differs from the computed risk needs a reason
 * (`override-no-reason`, path `overrideReason`); refusals of `rateScenarios` come along.
 */
export function rateTree(input: RatingInput): Outcome<RatedTree> {
  const rated = rateScenarios(input.scenarios)
  const computedRisk = rated.ok ? rated.value.worst.risk : null
  const overridden = input.overrideRisk !== null && input.overrideRisk !== computedRisk
  const faults = rated.ok ? [] : rated.refusals
  if (overridden && input.overrideReason.trim() === '')
    faults.push(refusal('override-no-reason', 'overrideReason', { value: input.overrideRisk }))
  if (!rated.ok || faults.length > 0) return refused(...faults)

  const { worst } = rated.value
  const worstFailure = failureWords[Math.max(...input.scenarios.map((s) => rank(failureWords, s.failure)))]!
  const risk = input.overrideRisk ?? worst.risk
  const urgentBecause =
    worstFailure === 'imminent'
      ? 'A part is failing or about to fail.'
      : risk === 'extreme'
        ? 'The risk is extreme.'
        : null
  return done({
    ...rated.value,
    computedRisk: worst.risk,
    risk,
    overridden,
    worstFailure,
    partSize: input.scenarios.find((s) => s.id === worst.scenarioId)!.partSize,
    urgent: urgentBecause !== null,
    urgentBecause,
    matricesEdition: matrices.edition,
    methodVersion,
  })
}
