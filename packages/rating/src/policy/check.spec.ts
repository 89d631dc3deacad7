import { describe, expect, it } from 'vitest'
import { checkPolicy, readPolicy } from './check.ts'
import { intervalOf, type PolicyDraft, partSizeOf } from './policy.ts'
import { balancedIntervalYears } from './sanity.ts'
import { startingPolicy } from './starting.ts'

/** The starting policy with one place changed. */
function changed(path: string, value: unknown): PolicyDraft {
  const policy = structuredClone(startingPolicy) as PolicyDraft
  const keys = path.split('.')
  let at = policy as unknown as Record<string, unknown>
  for (const key of keys.slice(0, -1)) at = at[key] as Record<string, unknown>
  at[keys.at(-1)!] = value
  return policy
}
const codes = (policy: PolicyDraft) => checkPolicy(policy).map((r) => `${r.code} ${r.path}`)

describe('checkPolicy', () => {
  it.each([
    ['a worse rating', 'capMonths.extreme.constant', 7],
    ['heavier use', 'capMonths.high.occasional', 14],
    ['heavier use of a part', 'months.constant.small.slow', 49],
    ['a bigger part', 'months.rare.large.slow', 61],
    ['faster change', 'months.frequent.large.fast', 25],
    ['a worse grace', 'graceDays.high', 31],
    ['a heavier first look', 'baselineMonths.constant', 7],
    ['a worse work', 'workDays.imminent', 8],
  ])('%s may not wait longer', (_, path, value) => {
    expect(codes(changed(path, value))).toContain(`policy-worse-waits-longer ${path}`)
  })

  it('names both cells and the limit', () => {
    const [first] = checkPolicy(changed('workDays.imminent', 8))
    expect(first).toMatchObject({ value: 8, limit: 'at most 7, as at workDays.extreme' })
    expect(first!.message).toMatch(/imminent.*8.*extreme.*7/)
  })

  it('compares a cell with its neighbour in size, in change and in use', () => {
    const limits = (path: string, value: number) => checkPolicy(changed(path, value)).map((r) => r.limit)
    expect(limits('months.frequent.large.fast', 25)).toEqual([
      'at most 24, as at months.occasional.large.fast',
      'at most 24, as at months.frequent.medium.fast',
      'at most 24, as at months.frequent.large.ordinary',
    ])
  })

  it('does not let a worse case be looked at on a lower level', () => {
    expect(codes(changed('levels.extreme.rare', 1))).toContain(
      'policy-worse-looked-at-less levels.extreme.rare',
    )
    expect(codes(changed('levels.unrated.constant', 1))).toContain(
      'policy-worse-looked-at-less levels.unrated.constant',
    )
  })

  it.each([
    'months.rare.small.slow',
    'capMonths.low.rare',
    'levels.low.rare',
    'levels.unrated.rare',
    'graceDays.low',
    'baselineMonths.rare',
    'workDays.low',
  ])('refuses an empty cell at %s, null or missing', (path) => {
    expect(codes(changed(path, null))).toEqual([`policy-cell-empty ${path}`])
    expect(codes(changed(path, undefined))).toEqual([`policy-cell-empty ${path}`])
  })

  it('refuses a season without a month and sizes in the wrong order', () => {
    expect(codes(changed('season.months.in-leaf', []))).toEqual(['policy-cell-empty season.months.in-leaf'])
    expect(codes(changed('partSizeFromCm.large', 10))).toEqual(['out-of-range partSizeFromCm.large'])
  })
})

describe('readPolicy', () => {
  it('takes the starting policy through JSON', () => {
    const read = readPolicy(JSON.parse(JSON.stringify(startingPolicy)))
    expect(read.ok && read.value).toEqual(startingPolicy)
  })

  it('refuses what is malformed, empty or out of order', () => {
    const code = (stored: unknown) => {
      const read = readPolicy(stored)
      return read.ok ? null : read.refusals[0]!.code
    }
    expect(code({})).toBe('malformed')
    expect(code(changed('capMonths.low.rare', 'often'))).toBe('malformed')
    expect(code(changed('capMonths.low.rare', 0))).toBe('malformed')
    expect(code(JSON.parse(JSON.stringify(changed('capMonths.low.rare', undefined))))).toBe(
      'policy-cell-empty',
    )
    expect(code(changed('workDays.imminent', 8))).toBe('policy-worse-waits-longer')
  })
})

describe('intervals and sizes', () => {
  it('takes the shorter of the two tables', () => {
    const of = { use: 'constant', partSize: 'large', changeRate: 'ordinary' } as const
    expect(intervalOf(startingPolicy, { ...of, risk: 'high' })).toEqual({ months: 6, byRisk: true })
    expect(intervalOf(startingPolicy, { ...of, risk: 'low' })).toEqual({ months: 18, byRisk: false })
  })

  it('sizes a part by its diameter, limits included upwards', () => {
    expect([9.9, 10, 29.9, 30].map((cm) => partSizeOf(cm, startingPolicy))).toEqual([
      'small',
      'medium',
      'medium',
      'large',
    ])
  })

  it('has no balanced interval without costs', () => {
    const of = { costOfLook: 0, costOfFailure: 1, hazardGrowthPerYear2: 1 }
    expect(() => balancedIntervalYears(of)).toThrow(RangeError)
  })
})
