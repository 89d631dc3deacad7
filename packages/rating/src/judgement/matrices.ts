import {
  type ConsequenceWord,
  consequenceWords,
  type FailureWord,
  type ImpactWord,
  impactWords,
  type JointWord,
  type RiskWord,
  rank,
} from '@underbough/model'

/**
 * The two matrices of the trade's best management practice for tree risk assessment (companion to ANSI A300 Part 9),
 * as a council's "Urban Street Tree Management Plan", p. 64, reprints them. All 16 cells of the first were read there.
 * Of the second the 16 words were read and their number agrees (8 low, 4 moderate, 3 high, 1 extreme); which word stands
 * in which cell is from memory. A rating keeps the edition it was made with.
 */
export const matrices = {
  edition: 'trade-matrices-1',
  source: 'Urban Street Tree Management Plan, p. 64, after the trade’s best management practice',
  /** Columns: likelihood of impact, very low to high. */
  joint: {
    imminent: ['unlikely', 'somewhat likely', 'likely', 'very likely'],
    probable: ['unlikely', 'unlikely', 'somewhat likely', 'likely'],
    possible: ['unlikely', 'unlikely', 'unlikely', 'somewhat likely'],
    improbable: ['unlikely', 'unlikely', 'unlikely', 'unlikely'],
  } satisfies Record<FailureWord, JointWord[]> as Record<FailureWord, readonly JointWord[]>,
  /** Columns: consequences, negligible to severe. Placement of the cells from memory. */
  risk: {
    'very likely': ['low', 'moderate', 'high', 'extreme'],
    likely: ['low', 'moderate', 'high', 'high'],
    'somewhat likely': ['low', 'low', 'moderate', 'moderate'],
    unlikely: ['low', 'low', 'low', 'low'],
  } satisfies Record<JointWord, RiskWord[]> as Record<JointWord, readonly RiskWord[]>,
} as const

/** Likelihood of failure and impact together, from the trade's first matrix. Throws RangeError on a word of another list. */
export function jointLikelihood(failure: FailureWord, impact: ImpactWord): JointWord {
  return cell(matrices.joint, failure, rank(impactWords, impact))
}

/** Risk, from the trade's second matrix. Throws RangeError on a word of another list. */
export function riskOf(joint: JointWord, consequences: ConsequenceWord): RiskWord {
  return cell(matrices.risk, joint, rank(consequenceWords, consequences))
}

function cell<R extends string, W>(table: Record<R, readonly W[]>, row: R, column: number): W {
  const word = table[row]?.[column]
  if (word === undefined) throw new RangeError(`“${row}” is not a row of the matrix`)
  return word
}
