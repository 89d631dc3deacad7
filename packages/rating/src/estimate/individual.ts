import type { FailureWord } from '@underbough/model'
import type { FailureBands } from './bands.ts'
import { addSpans, type Span, yearlySpan } from './yearly.ts'

/** A tree's scenario over the place where a named user is: the share of that place within the outline, given that it fails. */
export interface ScenarioOverPlace {
  failure: FailureWord
  timeFrameYears: number
  share: { least: number; mean: number; most: number }
}

/** Chance that somebody within the outline is killed, from and to: stated by the organisation, no published figure was found. */
export interface Vulnerability {
  from: number
  to: number
}
/** Assumption: between a tenth and certain, for nothing narrower could be shown. */
export const startingVulnerability: Vulnerability = { from: 0.1, to: 1 }

const HOURS_PER_YEAR = 8760

/**
 * Yearly chance that one named person is killed at a place: over all scenarios there, yearly chance of failure × share of the
 * place within the outline × share of the year the person is there × vulnerability. No end lies above 1. The only figure that
 * may be set beside published levels of individual risk.
 * @param hoursPerYear the person's own, 0 to 8760; throws RangeError beyond
 */
export function individualPerYear(
  scenarios: readonly ScenarioOverPlace[],
  hoursPerYear: number,
  vulnerability: Vulnerability,
  bands: FailureBands,
): Span {
  if (!(hoursPerYear >= 0 && hoursPerYear <= HOURS_PER_YEAR))
    throw new RangeError(`a year has ${HOURS_PER_YEAR} hours`)
  const there = hoursPerYear / HOURS_PER_YEAR
  const { from, to } = vulnerability
  const sum = addSpans(
    scenarios.map(({ failure, timeFrameYears, share }) => {
      const chance = yearlySpan(failure, timeFrameYears, bands)
      return {
        least: chance.least * share.least,
        middle: chance.middle * share.mean,
        most: chance.most * share.most,
      }
    }),
  )
  return {
    least: Math.min(1, sum.least * there * from),
    middle: Math.min(1, sum.middle * there * Math.sqrt(from * to)),
    most: Math.min(1, sum.most * there * to),
  }
}

/**
 * Yearly risk of death to one member of the public: above the upper line it is held intolerable but for exceptional reasons,
 * below the lower one broadly acceptable (Health and Safety Executive, Reducing risks, protecting people, 2001).
 */
export const publishedLines = {
  upper: { perYear: 1e-4, words: '1 in 10,000 a year' },
  lower: { perYear: 1e-6, words: '1 in 1,000,000 a year' },
  source:
    'Health and Safety Executive, Reducing risks, protecting people (2001): risk of death to one person',
} as const

/** Where a whole range lies; `undecided` as soon as it spans a line. */
export type LineVerdict = 'above-both' | 'between' | 'below-both' | 'undecided'
export const lineVerdictWords: Record<LineVerdict, string> = {
  'above-both': 'The whole range lies above both lines.',
  between: 'The whole range lies between the two lines.',
  'below-both': 'The whole range lies below both lines.',
  undecided: 'Does not decide: the range spans a line.',
}

/** An individual's range beside the published lines. An end that lies on a line spans it. */
export function besidePublishedLines({ least, most }: Pick<Span, 'least' | 'most'>): LineVerdict {
  const { upper, lower } = publishedLines
  if (least > upper.perYear) return 'above-both'
  if (most < lower.perYear) return 'below-both'
  return least > lower.perYear && most < upper.perYear ? 'between' : 'undecided'
}
