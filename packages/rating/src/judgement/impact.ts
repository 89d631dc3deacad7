import {
  type ImpactWord,
  impactWords,
  type OccupancyWord,
  occupancyWords,
  type ProtectionWord,
  protectionWords,
  rank,
} from '@underbough/model'

/** Where a proposed word comes from: read in a published text, a published rule known from memory, or our own extension of it. */
export type ImpactBasis = 'published' | 'memory' | 'ours'

/**
 * Basis of each of the twelve cells; columns: protection none, partial, full.
 * Published: the trade's definitions of very low and low (paperzz.com/doc/7629142). Memory: its definitions of medium and high.
 * Ours: what no definition names; the same rule gives very low there.
 */
const bases: Record<OccupancyWord, readonly ImpactBasis[]> = {
  rare: ['published', 'ours', 'ours'],
  occasional: ['published', 'published', 'ours'],
  frequent: ['memory', 'published', 'ours'],
  constant: ['memory', 'memory', 'published'],
}

/**
 * The likelihood of impact proposed for a target: max(1, occupancy 1..4 − protection 0..2), read as very low to high.
 * The inspector confirms it, or says another word with a reason.
 */
export function proposeImpact(
  occupancy: OccupancyWord,
  protection: ProtectionWord,
): { impact: ImpactWord; basis: ImpactBasis } {
  const shield = rank(protectionWords, protection)
  const index = Math.max(1, rank(occupancyWords, occupancy) + 1 - shield)
  return { impact: impactWords[index - 1]!, basis: bases[occupancy][shield]! }
}

/** Assumption: cuts between very low, low, medium and high on share of hours × share of bearings. They give the eight defined cells at the middle of each class. */
export const impactCuts = [0.026, 0.155, 0.47] as const
/** Assumption: from this many words apart the inspector is asked to look again. */
export const wordsApartToQuestion = 2

export interface ImpactQuestion {
  /** Share of hours × share of bearings, 0 to 1. */
  share: number
  /** The word that share falls into. Never a proposal: it may question a word and never lowers one. */
  word: ImpactWord
  /** One sentence for the inspector, or null where the two agree or lie one word apart. */
  question: string | null
}

/**
 * Cross-check of a likelihood of impact against figures: the share of hours somebody is there (1 for a structure) and the
 * share of the silhouette's bearings that reach it given the scenario's direction, after shelter. Both 0 to 1;
 * throws RangeError outside.
 */
export function questionImpact(
  impact: ImpactWord,
  shareOfHours: number,
  shareOfBearings: number,
): ImpactQuestion {
  for (const share of [shareOfHours, shareOfBearings])
    if (!(share >= 0 && share <= 1)) throw new RangeError(`a share lies between 0 and 1, not ${share}`)
  const share = shareOfHours * shareOfBearings
  const word = impactWords[impactCuts.filter((cut) => share >= cut).length]!
  const apart = Math.abs(rank(impactWords, word) - rank(impactWords, impact))
  const question =
    apart < wordsApartToQuestion
      ? null
      : `Somebody or something is there and in reach ${percent(share)} of the time, which reads as ${word}; the rating says ${impact}. Look again at hours, direction and shelter.`
  return { share, word, question }
}

const percent = (share: number) => `${Number((share * 100).toPrecision(2))} %`
