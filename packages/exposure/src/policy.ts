import type { ScenarioPart } from '@underbough/model'

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
  /** What flies off dead or brittle wood: from the reach to `beyond` times it, within ± `halfAngleDeg` of the fall. */
  scatter: {
    /** P: 1.5, the trade's figure for the debris of dead trees. */
    beyond: number
    halfAngleDeg: number
    /** Share of the ring's ground that pieces cover. */
    coverage: number
    /** Chance that dead or brittle wood scatters at all; sound wood does not. */
    chance: number
  }
  shelter: {
    /** Share of the exposure left behind a shelter where the stem comes to rest on it and hangs over. */
    residual: number
    /** Share left behind a shelter that holds the whole length. Nothing is ever sheltered to zero unless somebody says so here. */
    least: number
    /** Thickest stem, cm, that a class of building can carry; a thicker one goes through as if nothing stood there. */
    carriesCm: Record<ShelterClass, number>
    /** Share of the people inside a shelter who are as exposed as in the open, by the part that falls. */
    penetration: Record<ScenarioPart, number>
  }
  /** Steepness (tangent of the slope) at and above which what falls slides or rolls on without end. */
  slideFrom: number
  /** Roads: what a driver and a lane are taken for. Queue: vehicles standing on a kilometre of one lane. */
  road: { reactionS: number; decelerationMps2: number; vehicleLengthM: number; queuePerKm: number }
  /** Limb length as a share of the crown radius on its side, and its diameter as a share of the stem's, where not measured. */
  limb: { lengthShare: number; diameterShare: number }
}

/** What a building is made of, as the record of a zone says. */
export type ShelterClass = 'masonry' | 'frame' | 'light'

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
  scatter: { beyond: 1.5, halfAngleDeg: 20, coverage: 0.3, chance: 1 },
  shelter: {
    residual: 0.5,
    least: 0.05,
    carriesCm: { masonry: 150, frame: 60, light: 0 },
    penetration: { 'whole-tree': 1, stem: 1, limb: 0.5 },
  },
  slideFrom: 0.6,
  // Reaction and deceleration as AASHTO designs by; length and queue are ours.
  road: { reactionS: 2.5, decelerationMps2: 3.4, vehicleLengthM: 5, queuePerKm: 140 },
  limb: { lengthShare: 1, diameterShare: 0.3 },
}
