import { done, type Outcome, refused } from '@underbough/model'
import { outside } from '../limits.ts'
import { type CountedTo, type InnerWidths, missingRings } from './missing.ts'
import type { InnermostArc } from './pith.ts'

/** What a core says of age. Null for the pith: not reached, and no arc read. */
export interface AgeInput extends InnerWidths {
  ringsCounted: number
  pith: { reached: true } | ({ reached: false; countedTo?: CountedTo } & InnermostArc) | null
  /** Height of the core above the ground. */
  heightM: number
  /** How long the tree took to grow to that height, where somebody can say; a wide default stands in. */
  yearsToHeight?: { least: number; most: number } | null
  yearSampled: number
}

/** One part of an age. `most` is null where nothing bounds it. */
export interface AgePart {
  what: 'rings counted' | 'rings missing to the pith' | 'years to reach the height'
  least: number
  most: number | null
  mark: 'measured' | 'estimated' | 'defaulted'
  how: string
  source: string
}

/** An age as a range of whole years with what it is made of. */
export interface Age {
  leastYears: number
  /** Null: the pith was not reached, so this is "at least". */
  mostYears: number | null
  /** Years of germination, good to a year: whether the last season's ring was complete is not asked. */
  germinated: { from: number | null; to: number }
  parts: AgePart[]
  sentence: string
  caution: string
}

/** `A`: slowest and fastest growth in height of a young tree. */
const youngGrowthMPerYear = { slow: 0.15, fast: 0.6 } as const

/** Years a young tree needs to a height, where nobody can say (`A`: 0.15 to 0.6 m a year). Rounded outwards. */
export function defaultYearsToHeight(heightM: number): { least: number; most: number } {
  const height = Math.max(0, heightM)
  return {
    least: Math.floor(height / youngGrowthMPerYear.fast),
    most: Math.ceil(height / youngGrowthMPerYear.slow),
  }
}

function missingPart(input: AgeInput): Outcome<AgePart> {
  const part = { what: 'rings missing to the pith' as const }
  if (input.pith?.reached)
    return done({
      ...part,
      least: 0,
      most: 0,
      mark: 'measured',
      how: 'the core reached the pith',
      source: '',
    })
  const open = { ...part, least: 0, most: null, mark: 'estimated' as const, source: '' }
  if (!input.pith)
    return done({ ...open, how: 'the core did not reach the pith and shows no arc to estimate it from' })
  const missing = missingRings(input.pith, input, input.pith.countedTo)
  if (!missing.ok) return missing
  if (!missing.value)
    return done({ ...open, how: 'no width of the innermost rings was read, so the missing ones have none' })
  const { least, most, how } = missing.value
  return done({
    ...part,
    least,
    most,
    mark: 'estimated',
    how,
    source: 'Duncan 1989, New Zealand Natural Sciences 16; the doubt of a quarter either way is ours (A)',
  })
}

function heightPart(input: AgeInput): AgePart {
  const what = 'years to reach the height' as const
  if (input.yearsToHeight)
    return { what, ...input.yearsToHeight, mark: 'estimated', how: 'typed in', source: '' }
  return {
    what,
    ...defaultYearsToHeight(input.heightM),
    mark: 'defaulted',
    how: `a young tree growing ${youngGrowthMPerYear.slow} to ${youngGrowthMPerYear.fast} m a year`,
    source: 'assumption (A)',
  }
}

/**
 * Age of a tree from a core: rings counted + rings missing to the pith + years to reach the height, as a range. Where the pith was not
 * reached and no arc or no ring width was read, `mostYears` is null and the sentence says "at least".
 * Codes: `out-of-range`, `pith-arc`.
 */
export function ageOf(input: AgeInput): Outcome<Age> {
  const toHeight = heightPart(input)
  const wrong = outside({
    ringsCounted: [input.ringsCounted, 0, 5000, 'rings'],
    heightM: [input.heightM, -2, 130, 'm'],
    yearSampled: [input.yearSampled, 1500, 2200, ''],
    'yearsToHeight.least': [toHeight.least, 0, 1000, 'years'],
    'yearsToHeight.most': [toHeight.most!, toHeight.least, 1000, 'years'],
  })
  if (wrong.length > 0) return refused(...wrong)
  const missing = missingPart(input)
  if (!missing.ok) return missing
  const counted: AgePart = {
    what: 'rings counted',
    least: input.ringsCounted,
    most: input.ringsCounted,
    mark: 'measured',
    how: 'as counted; rings that are absent or doubled on this side are not in the range',
    source: '',
  }
  const parts = [counted, missing.value, toHeight]
  const leastYears = parts.reduce((sum, part) => sum + part.least, 0)
  const mostYears = parts.some((part) => part.most === null)
    ? null
    : parts.reduce((sum, part) => sum + part.most!, 0)
  return done({
    leastYears,
    mostYears,
    germinated: {
      from: mostYears === null ? null : input.yearSampled - mostYears,
      to: input.yearSampled - leastYears,
    },
    parts,
    sentence:
      mostYears === null
        ? `At least ${leastYears} years: the pith was not reached, and what is missing has no upper bound.`
        : `${leastYears} to ${mostYears} years.`,
    caution:
      'Growth off the middle and slow early years can put a single tree further out than this range; a centimetre short of the pith may hide ten years or more.',
  })
}
