/** A place known better than the first is as good as its point; one known no better than the second says nothing (Assumption). */
const CIRCLE_M = { least: 1, most: 50 } as const

/**
 * Radius of the circle in which a tree may stand, metres: the accuracy of its place, or 0 where that is not on record, finer
 * than 1 m or too coarse to say anything (over 50 m).
 */
export const circleOfM = ({ positionAccuracyM }: { positionAccuracyM?: number | null }): number =>
  positionAccuracyM && positionAccuracyM >= CIRCLE_M.least && positionAccuracyM <= CIRCLE_M.most
    ? positionAccuracyM
    : 0
