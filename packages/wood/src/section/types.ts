import type { Refusal, WoodSegment } from '@underbough/model'

/** East and north of the stem's middle, cm. */
export type PlanePoint = readonly [eastCm: number, northCm: number]

/** What is known of the stem's outline at the height of the section, outside of the bark. */
export type OutlineInput =
  | {
      by: 'radii'
      radii: readonly { bearingDeg: number; radiusCm: number }[]
      barkCm: number | null
    }
  | { by: 'girth'; girthCm: number; barkCm: number | null }
  /** The tree's recorded diameter, perhaps measured at another height: a circle, and said to be a stand-in. */
  | { by: 'stem-diameter'; diameterCm: number; measuredAtM: number }

/** A core or an accepted trace, as far as a section needs it. Depths in cm from the outside of the bark, along the instrument. */
export interface SectionReading {
  probeId: string
  label: string
  entryBearingDeg: number
  directionDeg: number
  /** Downwards from level. */
  tiltDeg: number
  barkCm: number
  /** How deep the instrument went. */
  reachedCm: number
  segments: readonly WoodSegment[]
}

/** The wall as it showed at a cut, without bark, towards the middle. */
export interface CutWall {
  probeId: string
  label: string
  bearingDeg: number
  wallCm: number
}

/** A hole in the wall; edges clockwise from one to the other. */
export interface OpeningInput {
  probeId: string
  label: string
  fromBearingDeg: number
  toBearingDeg: number
  /** From the outside of the stem; null where it was not measured. */
  depthCm: number | null
  /** Sound wall at each edge, without bark; null where it was not measured. */
  edgeWallsCm: { from: number; to: number } | null
}

export interface SectionInput {
  heightM: number
  outline: OutlineInput
  readings: readonly SectionReading[]
  cutWalls: readonly CutWall[]
  openings: readonly OpeningInput[]
  /** Four crown radii where they are known: with an opening, a one-sided crown twists the stem. */
  crownRadiiM: { n: number; e: number; s: number; w: number } | null
  /** Any whole number; the same seed gives the same band. */
  seed: number
  /** Drawn walls; 200 unless said. */
  draws?: number
}

/** A stretch of wood where the instrument met it, in the plane of the section. */
export interface PlacedSegment {
  condition: WoodSegment['condition'] | 'bark' | 'unread'
  from: PlanePoint
  to: PlanePoint
  lengthCm: number
}

/** One reading placed in the plane. */
export interface PlacedReading {
  probeId: string
  label: string
  kind: 'instrument' | 'cut'
  entry: PlanePoint
  /** Where the instrument stopped. */
  end: PlanePoint
  segments: PlacedSegment[]
  /** Bearing, seen from the middle, at which the wall was found to end (or the reading to stop). */
  bearingDeg: number
  /** Firm wood without bark, towards the middle. With `censored` the wall is at least this. */
  wallCm: number
  /** Wood radius, without bark, at that bearing. */
  radiusCm: number
  tOverR: number
  /** The reading stopped in firm wood: the wall is at least `wallCm`, and nobody knows how much more. */
  censored: boolean
  /** Softened wood found under the bark, outside the firm wall, cm. */
  outerLossCm: number
  /** Between the bark and the middle, along the radius: what was read and what was not, cm. */
  readCm: number
  unreadCm: number
}

export interface PlacedOpening {
  probeId: string
  label: string
  fromBearingDeg: number
  toBearingDeg: number
  depthCm: number | null
  edgeWallsCm: { from: number; to: number } | null
  /** Angle it takes of the circumference. */
  widthDeg: number
  complete: boolean
}

/** `walls`: each reading by itself, no figure for the section. `range`: least and most only. `figures`: 5, 50 and 95 %. */
export type SectionSays = 'walls' | 'range' | 'figures'

/** Why less is said than could be: too few readings, a gap between them, an opening not wholly measured. */
export type SectionLimit = 'few-readings' | 'gap' | 'opening-incomplete'

/** Shares of the same outline if sound, 0 to 1, at the 5, 50 and 95 % of the drawn walls. */
export interface Shares {
  p05: number
  p50: number
  p95: number
}

/**
 * What readings at one height say of the stem there. Lists over bearings run clockwise from north in steps of `stepDeg`.
 * A share is the bending strength of this cross-section over that of the same outline if sound; it says nothing of other heights,
 * of the root plate, of unions, or of the tree.
 */
export interface Section {
  methodVersion: string
  heightM: number
  seed: number
  draws: number
  stepDeg: number
  outline: {
    basis: OutlineInput['by']
    outerCm: number[]
    /** Without bark. */
    woodCm: number[]
    meanWoodRadiusCm: number
  }
  readings: PlacedReading[]
  openings: PlacedOpening[]
  says: SectionSays
  limits: SectionLimit[]
  /** Widest angle between two neighbouring readings (edges of a measured opening count), degrees. */
  widestGapDeg: number
  /** Wall thickness at each bearing: median and 5 % of the drawn walls. Null while `says` is `walls`; the median also while it is `range`. */
  wallCm: { median: number[] | null; cautious: number[] } | null
  /** On the weakest bearing. Null while `says` is `walls`; `p50` is null while it is `range`. */
  share: { p05: number; p50: number | null; p95: number } | null
  /** For every bearing the stem may bend towards; the same for opposite bearings. Null unless `says` is `figures`. */
  rose: Shares[] | null
  /** One of the two opposite bearings, 0 to below 180, on which the 50 % share is least. Null unless `says` is `figures`. */
  weakestBearingDeg: number | null
  /** Area of firm wood over the area of the outline without bark, at the median wall. Null unless `says` is `figures`. */
  areaShare: number | null
  /** Centroid of the firm wood at the median wall. Null unless `says` is `figures`. */
  centroid: PlanePoint | null
  /** Thinnest wall over radius, of the readings and, where drawn, of the cautious wall outside openings. Null without a reading. */
  thinnestTOverR: { value: number; at: string } | null
  /** Below about 0.30 of the radius other ways to break may come first: figures are greyed and say "bending only". */
  bendingOnly: boolean
  /** What the section leaves out, as sentences. Never empty. */
  notAssessed: string[]
  /** Assumptions that entered, as sentences. */
  assumptions: string[]
  notes: Refusal[]
}
