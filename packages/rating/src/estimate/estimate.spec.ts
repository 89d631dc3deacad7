import { describe, expect, it } from 'vitest'
import { agreementWith } from './agreement.ts'
import { checkBands, startingBands } from './bands.ts'
import { moversOf } from './expected.ts'

const { words } = startingBands
const bandsWith = (changes: Partial<typeof words>) => ({ edition: 'own', words: { ...words, ...changes } })
const codes = (bands: typeof startingBands) => checkBands(bands).map(({ code, path }) => `${code} ${path}`)

describe('bands', () => {
  it('are taken as they start, and refused where they run backwards, say nothing or lose their order', () => {
    expect(codes(startingBands)).toEqual([])
    expect(codes(bandsWith({ possible: { from: 1e-2, to: 1e-4 } }))).toContain(
      'out-of-range bands.words.possible',
    )
    expect(codes(bandsWith({ improbable: { from: 1e-9, to: 1e-3 } }))).toEqual([
      'out-of-range bands.words.improbable',
    ])
    expect(codes(bandsWith({ imminent: { from: 0.5, to: 1.5 } }))).toEqual([
      'out-of-range bands.words.imminent',
    ])
    expect(codes(bandsWith({ possible: { from: 1e-6, to: 1e-4 } }))).toEqual([
      'bands-out-of-order bands.words.possible',
    ])
  })
})

describe('agreement with what broke', () => {
  const record = (failures: number, years: number) => ({
    atRisk: [{ failure: 'possible' as const, timeFrameYears: 1, years }],
    treeYears: years,
    failures,
    allFailures: failures,
  })
  // Over 1000 years “possible” stands for 0.1 to 10 failures. Exact 95 % limits (tables after Garwood 1936): 1 failure 0.0253
  // to 5.572, 30 failures 20.24 to 42.83.
  it('holds where the two ranges overlap, and says which way they lie apart where not', () => {
    expect(agreementWith(record(1, 1000), startingBands).refusal).toBeNull()
    const few = agreementWith(record(30, 1000), startingBands)
    expect(few.refusal).toMatchObject({ code: 'estimate-disagrees' })
    expect(few.refusal!.message).toContain('too few')
    // Over a million years it predicts 100 at the least.
    expect(agreementWith(record(1, 1e6), startingBands).refusal!.message).toContain('too many')
  })

  it('never holds without a recorded failure, and says what none of them means', () => {
    const none = agreementWith(record(0, 500), startingBands).refusal!
    expect(none.code).toBe('estimate-no-failures')
    // −ln 0.05 / 500 = 0.0060 (the rule of three).
    expect(none.message).toContain('fewer than 0.006 a tree-year')
  })
})

describe('what moves the answer most', () => {
  const over = (least: number, mean: number, most: number) => [
    { failure: 'possible' as const, timeFrameYears: 3, people: { least, mean, most } },
  ]
  // The middle of “probable” is √(0.01 × 0.3) = 0.055, five times the upper end of “possible”.
  it('is another assessor’s word where all else is known well, and the direction where the fall may miss everybody', () => {
    expect(
      moversOf(over(1, 1, 1), startingBands)
        .slice(0, 2)
        .map(({ input }) => input),
    ).toEqual(['word', 'band'])
    const [first] = moversOf(over(0, 0.1, 100), startingBands)
    expect([first!.input, first!.times]).toEqual(['direction', null])
    const times = moversOf(over(0.5, 1, 2), startingBands).map((mover) => mover.times!)
    expect(times).toEqual(times.toSorted((a, b) => b - a))
  })

  // From half to double is four times; a word further up or down stays within the list.
  it('names each input with its ends', () => {
    const times = new Map(moversOf(over(0.5, 1, 2), startingBands).map((mover) => [mover.input, mover.times]))
    expect(times.get('people')).toBeCloseTo(4, 12)
    expect(times.get('direction')).toBeCloseTo(4, 12)
    expect(times.get('time-frame')).toBeCloseTo(5, 2)
    expect([...times.keys()].toSorted()).toEqual(['band', 'direction', 'people', 'time-frame', 'word'])
  })
})
