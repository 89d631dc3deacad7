import type { RatingInput, Scenario, ScenarioTarget } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { rateScenarios, rateTree } from './rate.ts'

const target = (over: Partial<ScenarioTarget> = {}): ScenarioTarget => ({
  zoneId: null,
  targetName: 'Kirk Walk',
  protection: 'none',
  proposedImpact: 'high',
  impact: 'high',
  impactReason: '',
  consequences: 'severe',
  ...over,
})
const scenario = (over: Partial<Scenario> = {}): Scenario => ({
  id: 'limb',
  part: 'limb',
  partSize: 'medium',
  heightM: 6,
  description: 'The limb over the path breaks at its union.',
  failure: 'possible',
  knownBearingDeg: null,
  targets: [target()],
  ...over,
})
const input = (over: Partial<RatingInput> = {}): RatingInput => ({
  id: 'r',
  treeId: 't',
  visitId: 'v',
  timeFrameYears: 3,
  changeRate: 'ordinary',
  scenarios: [scenario()],
  overrideRisk: null,
  overrideReason: '',
  residualRisk: null,
  ...over,
})
const codes = (outcome: ReturnType<typeof rateScenarios> | ReturnType<typeof rateTree>) =>
  outcome.ok ? [] : outcome.refusals.map((r) => `${r.code} ${r.path}`)

describe('rateScenarios', () => {
  it('keeps the path of words and finds the worst of all scenarios and targets', () => {
    const outcome = rateScenarios([
      scenario({ targets: [target({ consequences: 'minor' }), target({ targetName: 'Gazebo' })] }),
      scenario({ id: 'stem', failure: 'probable', targets: [target({ consequences: 'significant' })] }),
    ])
    if (!outcome.ok) throw new Error('refused')
    expect(outcome.value.all.map((r) => [r.scenarioId, r.joint, r.risk])).toEqual([
      ['limb', 'somewhat likely', 'low'],
      ['limb', 'somewhat likely', 'moderate'],
      ['stem', 'likely', 'high'],
    ])
    expect(outcome.value.worst).toMatchObject({ scenarioId: 'stem', targetName: 'Kirk Walk', risk: 'high' })
  })

  it('prefers the worse consequences, then the first entered, among equal risks', () => {
    const rated = rateScenarios([
      scenario({ failure: 'probable', targets: [target({ consequences: 'significant' })] }),
      scenario({ id: 'b', failure: 'probable' }),
      scenario({ id: 'c', failure: 'probable' }),
    ])
    expect(rated.ok && rated.value.worst.scenarioId).toBe('b')
  })

  it('refuses nothing to rate, no target, and an unexplained change of the proposal', () => {
    expect(codes(rateScenarios([]))).toEqual(['rating-no-scenario scenarios'])
    expect(codes(rateScenarios([scenario(), scenario({ targets: [] })]))).toEqual([
      'rating-no-target scenarios.1.targets',
    ])
    const lower = target({ impact: 'medium', impactReason: '  ' })
    expect(codes(rateScenarios([scenario({ targets: [target(), lower] })]))).toEqual([
      'override-no-reason scenarios.0.targets.1.impactReason',
    ])
    const explained = target({ impact: 'medium', impactReason: 'The wall stands between.' })
    expect(codes(rateScenarios([scenario({ targets: [explained] })]))).toEqual([])
  })
})

describe('rateTree', () => {
  it('keeps both the computed risk and the override, which needs a reason', () => {
    expect(codes(rateTree(input({ overrideRisk: 'high' })))).toEqual(['override-no-reason overrideReason'])
    const rated = rateTree(input({ overrideRisk: 'high', overrideReason: 'School queue at three.' }))
    expect(rated.ok && rated.value).toMatchObject({
      computedRisk: 'moderate',
      risk: 'high',
      overridden: true,
    })
    const same = rateTree(input({ overrideRisk: 'moderate' }))
    expect(same.ok && same.value).toMatchObject({ risk: 'moderate', overridden: false })
  })

  it('reports the faults of scenarios and override together', () => {
    expect(codes(rateTree(input({ scenarios: [], overrideRisk: 'low' })))).toEqual([
      'rating-no-scenario scenarios',
      'override-no-reason overrideReason',
    ])
  })

  it('is urgent when anything is imminent or extreme, and stays so under a lower override', () => {
    const urgent = (over: Partial<RatingInput>) => {
      const rated = rateTree(input(over))
      return rated.ok && rated.value.urgent
    }
    const mild = target({ consequences: 'negligible' })
    expect(urgent({})).toBe(false)
    expect(
      urgent({ scenarios: [scenario(), scenario({ id: 'b', failure: 'imminent', targets: [mild] })] }),
    ).toBe(true)
    const extreme = [scenario({ failure: 'imminent' })]
    expect(urgent({ scenarios: extreme, overrideRisk: 'low', overrideReason: 'Closed off.' })).toBe(true)
    expect(urgent({ overrideRisk: 'extreme', overrideReason: 'Crack opens by hand.' })).toBe(true)
  })

  it('reports the worst failure word even where another scenario carries the worst risk', () => {
    const mild = scenario({ id: 'b', failure: 'imminent', targets: [target({ consequences: 'negligible' })] })
    const rated = rateTree(input({ scenarios: [scenario({ partSize: 'large' }), mild] }))
    expect(rated.ok && rated.value).toMatchObject({
      worstFailure: 'imminent',
      partSize: 'large',
      risk: 'moderate',
    })
  })
})
