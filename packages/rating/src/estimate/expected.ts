import { type FailureWord, failureWords, rank } from '@underbough/model'
import type { FailureBands } from './bands.ts'
import { addSpans, type Span, yearlySpan } from './yearly.ts'

/** What one scenario of one tree would mean in one zone: the inspector's word and the people within the outline if it fails. */
export interface ScenarioOver {
  failure: FailureWord
  timeFrameYears: number
  /** Given that it fails: on average, and the least and most over what may turn the fall. */
  people: { least: number; mean: number; most: number }
}

/** Is said beside every number that a failure word stands behind. */
export const assessorsDiffer =
  'Assessors differ: with eighteen of them and thirty trees, words lay two or more apart on at least 83 % of the trees (Forests 2023, 14(5):1043).'

/**
 * People within the outline, expected per year: yearly chance times people, added over scenarios, zones and trees. Numbers
 * add whatever hangs together; they are expected numbers, not chances, and say nothing of harm. Scenarios of one tree count
 * as separate ones.
 */
export const expectedPerYear = (scenarios: readonly ScenarioOver[], bands: FailureBands): Span =>
  addSpans(
    scenarios.map(({ failure, timeFrameYears, people }) => {
      const chance = yearlySpan(failure, timeFrameYears, bands)
      return {
        least: chance.least * people.least,
        middle: chance.middle * people.mean,
        most: chance.most * people.most,
      }
    }),
  )

export const moverKinds = ['band', 'word', 'direction', 'people', 'time-frame'] as const
/** What an expected figure rests on. */
export type MoverKind = (typeof moverKinds)[number]

export const moverWords: Record<MoverKind, string> = {
  band: 'what the failure word means as a chance',
  word: 'another assessor’s word, one down or one up',
  direction: 'which way it falls',
  people: 'how many people there are, half to double',
  'time-frame': 'the time frame of the word, five years to one',
}

/** How far the middle figure moves where one input alone goes from its least to its most. */
export interface Mover {
  input: MoverKind
  least: number
  most: number
  /** `most` divided by `least`; null where the least is nothing at all. */
  times: number | null
}

/** Occupancy is rarely known better than this, times either way (Assumption). */
const PEOPLE_WITHIN = 2

/** One input at a time, all others at their middle; the one that moves the answer by most times comes first. */
export function moversOf(scenarios: readonly ScenarioOver[], bands: FailureBands): Mover[] {
  const sum = (one: (s: ScenarioOver) => number) => scenarios.reduce((total, s) => total + one(s), 0)
  const middle = ({ failure, timeFrameYears, people }: ScenarioOver) =>
    yearlySpan(failure, timeFrameYears, bands).middle * people.mean
  const chance = (end: 'least' | 'most') =>
    sum((s) => yearlySpan(s.failure, s.timeFrameYears, bands)[end] * s.people.mean)
  const word = (step: -1 | 1) => sum((s) => middle({ ...s, failure: beside(s.failure, step) }))
  const turned = (end: 'least' | 'most') =>
    sum((s) => yearlySpan(s.failure, s.timeFrameYears, bands).middle * s.people[end])
  const within = (timeFrameYears: number) => sum((s) => middle({ ...s, timeFrameYears }))
  const ends: [MoverKind, number, number][] = [
    ['band', chance('least'), chance('most')],
    ['word', word(-1), word(1)],
    ['direction', turned('least'), turned('most')],
    ['people', sum(middle) / PEOPLE_WITHIN, sum(middle) * PEOPLE_WITHIN],
    ['time-frame', within(LONGEST_FRAME_YEARS), within(SHORTEST_FRAME_YEARS)],
  ]
  return ends
    .map(([input, least, most]) => ({ input, least, most, times: least > 0 ? most / least : null }))
    .sort((a, b) => (b.times ?? Infinity) - (a.times ?? Infinity) || b.most - a.most)
}

/** Time frames a rating may have, years. */
const SHORTEST_FRAME_YEARS = 1
const LONGEST_FRAME_YEARS = 5

const beside = (word: FailureWord, step: -1 | 1): FailureWord =>
  failureWords[Math.min(failureWords.length - 1, Math.max(0, rank(failureWords, word) + step))]!
