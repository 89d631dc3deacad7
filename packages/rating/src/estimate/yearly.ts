import type { FailureWord } from '@underbough/model'
import type { FailureBands } from './bands.ts'

/** A figure that is a range, with a middle for putting several in order. */
export interface Span {
  least: number
  middle: number
  most: number
}

/**
 * Chance in one year of what has a chance within several, each year alike: 1 − (1 − p)^(1/years).
 * Throws RangeError on a chance outside 0..1 or a time frame that is not above 0.
 */
export function yearlyChance(chance: number, timeFrameYears: number): number {
  if (!(chance >= 0 && chance <= 1)) throw new RangeError('a chance lies between 0 and 1')
  if (!(timeFrameYears > 0)) throw new RangeError('a time frame is longer than 0 years')
  return -Math.expm1(Math.log1p(-chance) / timeFrameYears)
}

/** Yearly chance of failure behind a word given within a time frame; `middle` is that of the band's geometric middle. */
export function yearlySpan(word: FailureWord, timeFrameYears: number, bands: FailureBands): Span {
  const { from, to } = bands.words[word]
  return {
    least: yearlyChance(from, timeFrameYears),
    middle: yearlyChance(Math.sqrt(from * to), timeFrameYears),
    most: yearlyChance(to, timeFrameYears),
  }
}

export const addSpans = (spans: readonly Span[]): Span =>
  spans.reduce(
    (sum, one) => ({
      least: sum.least + one.least,
      middle: sum.middle + one.middle,
      most: sum.most + one.most,
    }),
    { least: 0, middle: 0, most: 0 },
  )
