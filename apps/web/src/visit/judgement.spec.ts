import type { FindingInput, OccupancyWord, Rating } from '@underbough/model'
import { startingPolicy } from '@underbough/rating'
import { describe, expect, it } from 'vitest'
import {
  isUrgent,
  judge,
  type Near,
  openWords,
  proposeScenarios,
  proposeWorks,
  type RatingDraft,
  type ScenarioDraft,
  targetDraft,
  tooLate,
  withProtection,
  worstOf,
} from './judgement.ts'

const near = (name: string, word: OccupancyWord, distanceM: number): Near => ({
  zoneId: `00000000-0000-4000-8000-${name.length.toString().padStart(12, '0')}`,
  name,
  kind: 'footpath',
  word,
  distanceM,
})
const tree = { heightM: 20, crownRadiiM: { n: 4, e: 5, s: 4, w: 3 } }
const zones = [near('Kirk Walk', 'frequent', 2), near('Harbour Road', 'constant', 12)]
const finding = (over: Partial<FindingInput>): FindingInput => ({
  id: 'f',
  step: 'stem',
  kind: 'Opening',
  heightM: 2.1,
  bearingDeg: 111,
  extent: '',
  note: '',
  ...over,
})
let serial = 0
const newId = () => `id-${++serial}`
const propose = (findings: FindingInput[], earlier: Rating | null = null) =>
  proposeScenarios({ findings, earlier, tree, near: zones, newId })
const draftOf = (scenarios: ScenarioDraft[], over: Partial<RatingDraft> = {}): RatingDraft => ({
  id: 'r',
  changeRate: 'ordinary',
  scenarios,
  overrideRisk: null,
  overrideReason: '',
  residualRisk: null,
  ...over,
})
const of = { treeId: 't', visitId: 'v', timeFrameYears: 3 }
const earlier = (failure: 'probable' | 'possible'): Rating =>
  ({
    scenarios: [
      {
        id: 's',
        part: 'stem',
        partSize: 'large',
        heightM: 2.5,
        description: 'The stem breaks at the opening.',
        failure,
        knownBearingDeg: 102,
        targets: [
          {
            zoneId: zones[1]!.zoneId,
            targetName: 'Harbour Road',
            protection: 'none',
            proposedImpact: 'medium',
            impact: 'high',
            impactReason: 'Cars stand here.',
            consequences: 'severe',
          },
        ],
      },
    ],
  }) as unknown as Rating

describe('scenarios proposed', () => {
  it('follow the part a finding bears on, and leave its failure word open', () => {
    const [stem, limb, ...rest] = propose([
      finding({}),
      finding({ step: 'main-branches', kind: 'Dead limb', heightM: 9 }),
      finding({ step: 'surroundings', kind: 'Neighbouring tree lost', heightM: null }),
    ])
    expect(rest).toEqual([])
    expect([stem!.part, stem!.failure, stem!.from]).toEqual(['stem', null, 'finding'])
    expect([limb!.part, limb!.partSize]).toEqual(['limb', 'medium'])
    expect(openWords(draftOf([stem!, limb!]))).toBe(2)
  })
  it('give a limb only what lies under the crown', () => {
    const [limb] = propose([finding({ step: 'main-branches', kind: 'Dead limb', heightM: 9 })])
    expect(limb!.targets.map((t) => t.targetName)).toEqual(['Kirk Walk'])
    const [stem] = propose([finding({})])
    expect(stem!.targets.map((t) => t.targetName)).toEqual(['Kirk Walk', 'Harbour Road'])
  })
  it('are one improbable scenario where nothing was found, so that a clear look closes with a rating', () => {
    const all = propose([])
    expect(all.map((s) => [s.part, s.failure, s.from])).toEqual([['whole-tree', 'improbable', 'usual']])
    // Improbable is unlikely at every impact, and unlikely is low at every consequence: the trade's two matrices, as an
    // "Urban Street Tree Management Plan", p. 64, reprints them.
    expect(judge(draftOf(all), of).rated?.risk).toBe('low')
  })
  it('carry on what the rating in force named, and do not name the same place twice', () => {
    const all = propose([finding({ heightM: 2.1 })], earlier('probable'))
    expect(all.map((s) => [s.from, s.failure])).toEqual([['earlier', 'probable']])
    // The proposal is worked out from today's use: constant and unprotected reads as high (the trade's definition, from memory).
    expect(all[0]!.targets[0]!.proposedImpact).toBe('high')
    expect(propose([finding({ heightM: 2 }), finding({ heightM: 6 })], earlier('probable'))).toHaveLength(2)
  })
})

describe('words of a target', () => {
  // Published definitions: frequently used and partly protected is low (paperzz.com/doc/7629142).
  it('follow the protection until a person says another', () => {
    const target = targetDraft(near('Kirk Walk', 'frequent', 2), 'large')
    const partial = withProtection(target, 'partial')
    expect([target.impact, partial.proposedImpact, partial.impact]).toEqual(['medium', 'low', 'low'])
    const own = withProtection({ ...target, impact: 'high', impactReason: 'School path' }, 'partial')
    expect([own.proposedImpact, own.impact]).toEqual(['low', 'high'])
  })
})

describe('where a judgement stands', () => {
  const stem = (failure: ScenarioDraft['failure']) => ({ ...propose([finding({})])[0]!, failure })
  // Matrices as above: probable × high = likely, likely × severe = high.
  it('is the worst target by the trade’s matrices', () => {
    const worst = worstOf(stem('probable'))
    expect([worst?.targetName, worst?.joint, worst?.risk]).toEqual(['Harbour Road', 'likely', 'high'])
    expect(worstOf(stem(null))).toBeNull()
  })
  it('is urgent the moment imminent is said, whatever else is open', () => {
    expect(isUrgent(null)).toBe(false)
    expect(isUrgent(draftOf([stem('probable')]))).toBe(false)
    const open = stem('imminent')
    open.targets = open.targets.map((t) => ({ ...t, consequences: null }))
    expect(isUrgent(draftOf([open]))).toBe(true)
    expect(isUrgent(draftOf([stem('possible')], { overrideRisk: 'extreme' }))).toBe(true)
  })
  it('names the reason that is missing at its place', () => {
    const scenario = stem('probable')
    scenario.targets = scenario.targets.map((t, i) => (i === 1 ? { ...t, impact: 'low' as const } : t))
    const judged = judge(draftOf([scenario]), of)
    expect(judged.refusals.map((r) => `${r.code} ${r.path}`)).toEqual([
      'override-no-reason scenarios.0.targets.1.impactReason',
    ])
    expect(judge(draftOf([stem('probable')], { overrideRisk: 'low' }), of).refusals[0]?.path).toBe(
      'overrideReason',
    )
  })
  it('proposes work for what is moderate or worse, by the deadline of its risk', () => {
    const works = (failure: ScenarioDraft['failure']) =>
      proposeWorks({
        findings: [finding({})],
        rating: draftOf([stem(failure)]),
        policy: startingPolicy,
        today: '2026-11-25',
        treeId: 't',
        visitId: 'v',
        newId,
      })
    expect(works('improbable')).toEqual([])
    // High: 90 days in the starting policy (one council's response times: Chorley, tree policy, page 7); 90 days on is 23 Feb.
    expect(works('probable').map((w) => [w.kind, w.dueOn])).toEqual([['reduce', '2027-02-23']])
    // Imminent: one day in the starting policy (the same response times, urgent 24 h).
    const now = works('imminent')
    expect(now.map((w) => [w.kind, w.dueOn])).toEqual([['remove', '2026-11-26']])
    const imminent = draftOf([stem('imminent')])
    expect(tooLate(imminent, now, startingPolicy, '2026-11-25')).toBeNull()
    expect(tooLate(imminent, works('probable'), startingPolicy, '2026-11-25')).toBe('2026-11-26')
    expect(tooLate(draftOf([stem('probable')]), [], startingPolicy, '2026-11-25')).toBeNull()
  })
})
