import {
  angleFromBearing,
  chancePresent,
  exposureOfSilhouette,
  hourClassesOf,
  type Lobe,
} from '@underbough/exposure'
import {
  besidePublishedLines,
  chanceOfAny,
  expectedPerYear,
  failureRate,
  individualPerYear,
  poissonInterval,
  poissonUpper,
  shareOf,
  startingBands,
  yearlyChance,
  yearlySpan,
} from '@underbough/rating'
import { jStat } from 'jstat'
import { describe, expect, it } from 'vitest'

/** One chance as a band without width. */
const exactly = (chance: number) => ({
  edition: 'test',
  words: {
    improbable: { from: chance, to: chance },
    possible: { from: chance, to: chance },
    probable: { from: chance, to: chance },
    imminent: { from: chance, to: chance },
  },
})
const people = (mean: number) => ({ least: mean, mean, most: mean })

describe('the yearly chance behind a time frame', () => {
  // Source: reference rows computed apart from this program, by p₁ = 1 − (1 − p)^(1/T).
  it.each([
    [0.1, 3, 0.0345106154],
    [0.5, 3, 0.206299474],
    [0.1, 5, 0.0208516376],
  ])('%f within %i years is %f in one', (chance, years, yearly) => {
    expect(yearlyChance(chance, years)).toBeCloseTo(yearly, 9)
  })

  // Survival over the years multiplies: the definition of independent years.
  it('gives the whole back over its years', () => {
    for (const chance of [1e-5, 1e-2, 0.3, 0.97])
      for (const years of [1, 2, 3, 4, 5])
        expect(1 - (1 - yearlyChance(chance, years)) ** years).toBeCloseTo(chance, 12)
    expect(yearlyChance(1, 3)).toBe(1)
    expect(yearlyChance(0, 3)).toBe(0)
    expect(() => yearlyChance(1.1, 3)).toThrow(RangeError)
  })

  // A worse word is never less likely, and a longer time frame never more likely in one of its years.
  it('keeps the order of the words and of the time frames', () => {
    const words = ['improbable', 'possible', 'probable', 'imminent'] as const
    for (const years of [1, 2, 3, 4, 5])
      for (let i = 1; i < words.length; i++) {
        const [lighter, worse] = [words[i - 1]!, words[i]!].map((w) => yearlySpan(w, years, startingBands))
        for (const end of ['least', 'middle', 'most'] as const)
          expect(worse![end]).toBeGreaterThan(lighter![end])
        const longer = yearlySpan(words[i]!, years + 1, startingBands)
        expect(longer.middle).toBeLessThan(worse!.middle)
      }
  })
})

describe('many trees together', () => {
  const ten = Array.from({ length: 10 }, () => ({
    failure: 'possible' as const,
    timeFrameYears: 1,
    people: people(0.2),
  }))

  // Source: reference row computed apart from this program: ten trees of 1e-2 each, share 0.2.
  it('adds expected numbers, and rings the chance of any by together and apart', () => {
    const sum = expectedPerYear(ten, exactly(1e-2))
    expect(sum.most).toBeCloseTo(0.02, 12)
    const any = chanceOfAny(ten.map(() => 1e-2 * 0.2))
    expect(any.ifApart).toBeCloseTo(0.019820956648050614, 15)
    expect(any.least).toBeCloseTo(0.002, 15)
    expect(any.most).toBeCloseTo(0.02, 15)
  })

  // A chance is at most 1 by definition; an expected number is not.
  it('never adds chances above one', () => {
    expect(chanceOfAny(Array.from({ length: 30 }, () => 0.1)).most).toBe(1)
    expect(
      expectedPerYear(
        Array.from({ length: 30 }, () => ({ ...ten[0]!, people: people(1) })),
        exactly(0.1),
      ).most,
    ).toBeCloseTo(3, 12)
  })
})

describe('rates from counts', () => {
  // Source: reference row computed apart from this program; −ln 0.05 = 2.9957 (the rule of three).
  it('says below 0.0060 a tree-year where none failed in 500', () => {
    expect(poissonUpper(0) / 500).toBeCloseTo(0.0059914645471079815, 12)
  })

  // Source: newspaper figures of incidents on about two million managed trees (2017, 2020), rates computed apart.
  it.each([
    [339, 0.0001695],
    [361, 0.0001805],
    [800, 0.0004],
  ])('%i incidents on two million trees are %f a tree-year', (incidents, rate) => {
    const found = failureRate(incidents, 2_000_000)
    expect(found.rate).toBeCloseTo(rate, 12)
    expect(found.least).toBeLessThan(rate)
    expect(found.most).toBeGreaterThan(rate)
  })

  // Source: Forests 2023, 14(5):988: branches lost by 14 of 1518 trees in one storm; interval computed apart,
  // its last digit not by Wilson's closed form: the ends differ from that by up to 6e-7.
  it('rings a share as Wilson does', () => {
    const found = shareOf(14, 1518)
    expect(found.share).toBeCloseTo(0.0092227, 7)
    expect(Math.abs(found.least - 0.0055011)).toBeLessThan(1e-6)
    expect(Math.abs(found.most - 0.0154209)).toBeLessThan(1e-6)
  })

  // Source: the exact 95 % limits of a Poisson count as tables after Garwood (1936) print them; rows from memory but for 10 and 25.
  it.each([
    [0, 0, 3.689],
    [1, 0.0253, 5.572],
    [2, 0.2422, 7.225],
    [3, 0.6187, 8.767],
    [5, 1.6235, 11.668],
    [10, 4.8, 18.39],
    [25, 16.18, 36.9],
  ])('a count of %i stands for %f to %f', (count, least, most) => {
    const found = poissonInterval(count)
    expect(Math.abs(found.least - least)).toBeLessThan(0.006)
    expect(Math.abs(found.most - most)).toBeLessThan(0.006)
  })

  // A general statistics library by another way: quantiles of chi-squared.
  it('agrees with chi-squared quantiles of a general library, at several levels', () => {
    for (const level of [0.8, 0.95, 0.99])
      for (const count of [0, 1, 2, 7, 30, 120, 900]) {
        const tail = (1 - level) / 2
        const found = poissonInterval(count, level)
        const least = count === 0 ? 0 : jStat.chisquare.inv(tail, 2 * count) / 2
        const most = jStat.chisquare.inv(1 - tail, 2 * count + 2) / 2
        expect(Math.abs(found.least - least)).toBeLessThan(1e-6 * (1 + least))
        expect(Math.abs(found.most - most)).toBeLessThan(1e-6 * most)
      }
  })
})

describe('one person beside published lines', () => {
  // Source: reference row computed apart from this program: failure 1e-3 a year, a twentieth of the place, one hour a day.
  it('is about two in a million for an hour a day under a tree of 1e-3, where any of four always there is 87 times that', () => {
    const share = { least: 0.05, mean: 0.05, most: 0.05 }
    const one = individualPerYear(
      [{ failure: 'possible', timeFrameYears: 1, share }],
      365,
      { from: 1, to: 1 },
      exactly(1e-3),
    )
    expect(one.most).toBeCloseTo(2.0833e-6, 10)
    // Any of four people always there: another quantity, never set beside the lines.
    const four = hourClassesOf({
      kind: 'building',
      peopleInside: Array.from({ length: 168 }, () => 4 * 0.05),
    })
    expect(1e-3 * chancePresent(four)).toBeCloseTo(0.0001812692469220182, 12)
  })

  // Source: Health and Safety Executive, Reducing risks, protecting people (2001): 1 in 10,000 and 1 in 1,000,000 a year.
  it.each([
    [2e-4, 9e-4, 'above-both'],
    [5e-5, 2e-4, 'undecided'],
    [2e-6, 8e-5, 'between'],
    [1e-7, 3e-6, 'undecided'],
    [1e-8, 9e-7, 'below-both'],
    [1e-8, 1e-2, 'undecided'],
    [1e-6, 5e-5, 'undecided'],
    [1e-5, 1e-4, 'undecided'],
  ] as const)('%f to %f: %s', (least, most, verdict) => {
    expect(besidePublishedLines({ least, most })).toBe(verdict)
  })

  // Source: worked through in the literature review of the bands: “possible” with one in a hundred present is 1e-6 to 1e-4 in the time frame.
  it('does not decide for “possible” with a hundredth of the place and year', () => {
    const share = { least: 0.01, mean: 0.01, most: 0.01 }
    const one = individualPerYear(
      [{ failure: 'possible', timeFrameYears: 1, share }],
      8760,
      { from: 1, to: 1 },
      startingBands,
    )
    expect(one.least).toBeCloseTo(1e-6, 12)
    expect(one.most).toBeCloseTo(1e-4, 12)
    expect(besidePublishedLines(one)).toBe('undecided')
  })

  it('adds no chance of one person above one', () => {
    const share = { least: 1, mean: 1, most: 1 }
    const many = Array.from({ length: 9 }, () => ({ failure: 'imminent' as const, timeFrameYears: 1, share }))
    expect(individualPerYear(many, 8760, { from: 0.1, to: 1 }, startingBands).most).toBe(1)
    expect(() => individualPerYear(many, 9000, { from: 0.1, to: 1 }, startingBands)).toThrow(RangeError)
  })
})

describe('why a word is not driven by geometry', () => {
  // Source: reference rows computed apart from this program: a house with a front of 15 m at a distance from a tree of 20 m,
  // strip of half width 3 m; every direction alike, and 0.3 of that with a lobe of concentration 8 towards the house.
  it.each([
    [5, 0.4208, 0.8258],
    [10, 0.282, 0.7725],
    [15, 0.2048, 0.7063],
  ])(
    '%i m away it is touched by %f of all falls, and by %f of those leaning its way',
    (away, even, leaning) => {
      const house = {
        id: 'house',
        polygons: [
          [
            [
              [away, -7.5],
              [away + 10, -7.5],
              [away + 10, 7.5],
              [away, 7.5],
              [away, -7.5],
            ] as [number, number][],
          ],
        ],
        areaM2: 150,
        hours: hourClassesOf({ kind: 'building', peopleInside: Array.from({ length: 168 }, () => 1) }),
        staticTarget: true,
      }
      const strip = { kind: 'strip' as const, lengthM: 20, halfWidthM: 3 }
      // I₀(8) = 427.564116, as tables of Bessel functions give it (from memory).
      const scale = Math.exp(8) / (2 * Math.PI * 427.5641157218048)
      const towards = { share: 1, angle: angleFromBearing(90), concentration: 8, scale }
      const touched = (lobes: Lobe[]) =>
        exposureOfSilhouette(strip, lobes, [house as never]).zones[0]!.pTouch.mean
      const alike: Lobe = { kind: 'even', weight: 1, parts: [] }
      expect(touched([alike])).toBeCloseTo(even, 4)
      const lobed: Lobe[] = [
        { ...alike, weight: 0.3 },
        { kind: 'lean', weight: 0.7, parts: [towards] },
      ]
      expect(touched(lobed)).toBeCloseTo(leaning, 4)
    },
  )
})
