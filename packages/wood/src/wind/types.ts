import type { SectionShare } from './capacity.ts'
import type { AreaKind, DragMark, DragRecord, LeafState } from './drag.ts'
import type { GustEnds } from './words.ts'

/** A figure with how it came about. */
export interface Known {
  value: number
  mark: 'measured' | 'estimated' | 'defaulted'
  /** Who or what it is from; empty for the person at the tree. */
  source: string
}

export interface GustInput {
  crown: {
    heightM: Known
    crownBaseM: Known
    meanCrownRadiusM: Known
    areaKind: AreaKind
    leaf: LeafState
  }
  drag: DragRecord
  section: {
    heightM: number
    /** Of the stem between section and crown. */
    stemDiameterCm: Known
    /** Remaining wood. */
    areaCm2: Known
    /** Section modulus of the same outline if sound, in the bearing at hand. */
    soundModulusCm3: Known
    /** Share of it that is left, 0..1, at 5, 50 and 95 %; no middle where the readings allow a range only. */
    share: SectionShare
  }
  /** Everything above the section. */
  weightAboveKg: Known
  /** From the middle of the section to the middle of that weight, level; 0 where the tree stands straight and even. */
  leanOffsetM: Known
  /** Green wood; it yields here first. */
  crushingStrengthMPa: Known
  /** Green wood, clear specimens; only for the upper figure. Null: 2.27 × the crushing strength. */
  bendingStrengthMPa: Known | null
}

/** One line of what went in. */
export interface InputLine {
  name: string
  value: number
  unit: string
  mark: Known['mark']
  source: string
}

/** What may be said of wind on this section. It holds no factor, no colour and no mark to reach. */
export interface GustRange {
  methodVersion: string
  /** Wind moment at which this section reaches the stress that the sound outline would, whole per cent of the sound one's. */
  relative: { leastPercent: number; middlePercent: number | null; mostPercent: number; sentence: string }
  /** Gusts over three seconds at which bending and weight reach the crushing strength of green wood: 5 to 95 %, rounded outwards. */
  gusts: GustEnds & { sentence: string }
  /** The most gust if the bending strength of clear specimens were the limit: shown as an upper figure only. */
  upper: { most: GustEnds['most']; sentence: string }
  /** How the gusts of the range stand to the speed the drag was measured at. */
  dragMarks: DragMark[]
  inputs: InputLine[]
  /** Whatever must stand beside the figures, always. */
  sentences: string[]
}
