/** What an organisation may change about the figures of exposure. Every default is an Assumption; none has a published source. */
export interface ExposurePolicy {
  /** Half a person's width, added to the stem's on both sides. A point has no width and people do. */
  bodyHalfWidthM: number
  /** Height of the crown's base as a share of the tree's, where it was not measured. */
  crownBaseShare: number
  /** Mean crown radius as a share of the tree's height, where no radius was measured. */
  crownRadiusShare: number
  /** Height divided by stem diameter (same unit), where no stem was measured. */
  slenderness: number
  /** Weights of the directions a tree may fall in. Those for which the tree gives no reason drop out; the rest are scaled to 1. */
  directionWeights: { even: number; lean: number; crown: number; clearing: number; wind: number }
  /** How tight the lean's directions are: concentration of a circular normal, `base + perDegree × lean`, at most `most`. */
  leanConcentration: { base: number; perDegree: number; most: number }
  /** Concentration towards the heavier side of the crown for each unit of one-sidedness (0 even, 1 all on one side). */
  crownConcentrationPerUnit: number
  /** One-sidedness below which the crown counts as even. */
  crownEvenBelow: number
  clearingConcentration: number
  /** Concentration of the fall downwind of one of the sixteen directions of the rose. */
  windConcentration: number
  /** Concentration about a direction the inspector states as known. */
  knownConcentration: number
}

/** Assumption, all of it: our own figures, shown beside every result and editable. */
export const defaultExposurePolicy: ExposurePolicy = {
  bodyHalfWidthM: 0.25,
  crownBaseShare: 0.3,
  crownRadiusShare: 0.2,
  slenderness: 50,
  directionWeights: { even: 0.3, lean: 0.5, crown: 0.2, clearing: 0.2, wind: 0.3 },
  leanConcentration: { base: 0.5, perDegree: 0.3, most: 20 },
  crownConcentrationPerUnit: 8,
  crownEvenBelow: 0.05,
  clearingConcentration: 2,
  windConcentration: 12,
  knownConcentration: 30,
}
