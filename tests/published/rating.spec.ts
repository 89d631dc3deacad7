import {
  consequenceWords,
  failureWords,
  impactWords,
  jointWords,
  occupancyWords,
  protectionWords,
  rank,
  riskWords,
} from '@underbough/model'
import {
  balancedIntervalYears,
  jointLikelihood,
  matrices,
  proposeImpact,
  questionImpact,
  riskOf,
} from '@underbough/rating'
import { describe, expect, it } from 'vitest'
import { composed64 } from './rating-compositions.ts'

function count(words: readonly string[]): Record<string, number> {
  const sum: Record<string, number> = {}
  for (const word of words) sum[word] = (sum[word] ?? 0) + 1
  return sum
}

/** Transcribed row by row from the page, not from our code; the rows of the second are from memory. */
const firstMatrix = [
  'imminent: unlikely, somewhat likely, likely, very likely',
  'probable: unlikely, unlikely, somewhat likely, likely',
  'possible: unlikely, unlikely, unlikely, somewhat likely',
  'improbable: unlikely, unlikely, unlikely, unlikely',
]
const secondMatrix = [
  'very likely: low, moderate, high, extreme',
  'likely: low, moderate, high, high',
  'somewhat likely: low, low, moderate, moderate',
  'unlikely: low, low, low, low',
]
const cells = (rows: string[], columns: readonly string[]) =>
  rows.flatMap((row) => {
    const [name, words] = row.split(': ') as [string, string]
    return words.split(', ').map((word, i) => [name, columns[i]!, word] as const)
  })

describe('likelihood of failure and impact', () => {
  // Source: council "Urban Street Tree Management Plan", p. 64, reprinting the trade's best management practice
  // (companion to ANSI A300 Part 9), https://fliphtml5.com/orxd/fjoo/Urban_Street_Tree_Management_Plan/64. All 16 cells read.
  it.each(cells(firstMatrix, impactWords))('%s × %s is %s', (failure, impact, joint) => {
    expect(jointLikelihood(failure as never, impact as never)).toBe(joint)
  })

  it('has the number of each word that stands on the page', () => {
    const all = failureWords.flatMap((f) => impactWords.map((i) => jointLikelihood(f, i)))
    expect(count(all)).toEqual({ unlikely: 10, 'somewhat likely': 3, likely: 2, 'very likely': 1 })
  })
})

describe('risk', () => {
  // Source: the same page. Its 16 words were read; which word stands in which cell is FROM MEMORY. The independent
  // checks are therefore the number of each word (read) and that no input makes the risk fall.
  it.each(cells(secondMatrix, consequenceWords))(
    '%s × %s is %s (placement from memory)',
    (joint, c, risk) => {
      expect(riskOf(joint as never, c as never)).toBe(risk)
    },
  )

  it('has the number of each word that stands on the page', () => {
    const all = jointWords.flatMap((j) => consequenceWords.map((c) => riskOf(j, c)))
    expect(count(all)).toEqual({ low: 8, moderate: 4, high: 3, extreme: 1 })
  })

  it('never falls when failure, impact or consequences rise', () => {
    let pairs = 0
    const risk = (f: number, i: number, c: number) =>
      rank(riskWords, riskOf(jointLikelihood(failureWords[f]!, impactWords[i]!), consequenceWords[c]!))
    for (let f = 0; f < 4; f++)
      for (let i = 0; i < 4; i++)
        for (let c = 0; c < 4; c++) {
          for (const lighter of [f > 0 && [f - 1, i, c], i > 0 && [f, i - 1, c], c > 0 && [f, i, c - 1]]) {
            if (!lighter) continue
            const [a, b, d] = lighter as [number, number, number]
            expect(risk(a, b, d)).toBeLessThanOrEqual(risk(f, i, c))
            pairs++
          }
        }
    expect(pairs).toBe(144)
  })

  it('names the edition it was made with', () => {
    expect(matrices.edition).toMatch(/\S/)
  })
})

describe('the two matrices composed', () => {
  // Source: composed outside this project from the two matrices above; see rating-compositions.ts.
  it.each(composed64)('%s, %s, %s: %s, %s', (failure, impact, consequences, joint, risk) => {
    expect(jointLikelihood(failure, impact)).toBe(joint)
    expect(riskOf(joint, consequences)).toBe(risk)
  })

  it('covers each of the 64 inputs once: 49 low, 9 moderate, 5 high, 1 extreme', () => {
    expect(new Set(composed64.map((row) => row.slice(0, 3).join())).size).toBe(64)
    const ours = failureWords.flatMap((f) =>
      impactWords.flatMap((i) => consequenceWords.map((c) => riskOf(jointLikelihood(f, i), c))),
    )
    expect(count(ours)).toEqual({ low: 49, moderate: 9, high: 5, extreme: 1 })
  })
})

describe('proposed likelihood of impact', () => {
  // Source of very low and low: https://paperzz.com/doc/7629142/defect-s-likelihood-of-failure (read).
  // Medium and high: the same trade definitions, FROM MEMORY.
  const defined = [
    ['rare', 'none', 'very low', 'published'],
    ['occasional', 'partial', 'very low', 'published'],
    ['occasional', 'none', 'low', 'published'],
    ['frequent', 'partial', 'low', 'published'],
    ['constant', 'full', 'low', 'published'],
    ['frequent', 'none', 'medium', 'memory'],
    ['constant', 'partial', 'medium', 'memory'],
    ['constant', 'none', 'high', 'memory'],
  ] as const
  it.each(defined)('%s, protection %s: %s (%s)', (occupancy, protection, impact, basis) => {
    expect(proposeImpact(occupancy, protection)).toEqual({ impact, basis })
  })

  // No source: the published text names none of these four; the rule of the other eight is carried on.
  it.each([
    ['rare', 'partial'],
    ['rare', 'full'],
    ['occasional', 'full'],
    ['frequent', 'full'],
  ] as const)('%s, protection %s: very low, marked as ours', (occupancy, protection) => {
    expect(proposeImpact(occupancy, protection)).toEqual({ impact: 'very low', basis: 'ours' })
  })

  it('never rises with protection nor falls with occupancy', () => {
    const index = (o: number, p: number) =>
      rank(impactWords, proposeImpact(occupancyWords[o]!, protectionWords[p]!).impact)
    for (let o = 0; o < 4; o++)
      for (let p = 0; p < 3; p++) {
        if (o > 0) expect(index(o, p)).toBeGreaterThanOrEqual(index(o - 1, p))
        if (p > 0) expect(index(o, p)).toBeLessThanOrEqual(index(o, p - 1))
      }
  })

  // Source: the eight defined cells above; the class centres are an assumption of ours worked out beforehand.
  it('is met by the cross-check at the centre of every defined class', () => {
    const hours = { rare: 0.005, occasional: 0.05, frequent: 0.3, constant: 0.9 }
    const bearings = { none: 0.9, partial: 0.3, full: 0.05 }
    for (const [occupancy, protection, impact] of defined) {
      const asked = questionImpact(impact, hours[occupancy], bearings[protection])
      expect([occupancy, protection, asked.word]).toEqual([occupancy, protection, impact])
      expect(asked.question).toBeNull()
    }
  })

  // A house 10 m from a 20 m tree that falls in any direction is reached on 28 % of bearings, and is still fully exposed in
  // the trade's sense: the cross-check may ask, from two words apart, and gives no proposal of its own.
  it('questions a word only from two words apart', () => {
    expect(questionImpact('high', 1, 0.282).question).toBeNull()
    expect(questionImpact('high', 0.3, 0.282).question).toMatch(/low.*high/)
    expect(questionImpact('very low', 1, 0.9).question).toMatch(/high.*very low/)
  })
})

describe('interval at which looking and waiting balance', () => {
  // Source: minimum of c/T + CκT/2 by elementary calculus; c 40, C 200,000, κ 1e-4 per year² gives 2 years, worked by hand.
  it('is 2 years in the worked example and a quarter of it for a sixteenfold loss', () => {
    const of = { costOfLook: 40, costOfFailure: 200_000, hazardGrowthPerYear2: 1e-4 }
    expect(balancedIntervalYears(of)).toBeCloseTo(2, 12)
    expect(balancedIntervalYears({ ...of, costOfFailure: 16 * 200_000 })).toBeCloseTo(0.5, 12)
  })
})
