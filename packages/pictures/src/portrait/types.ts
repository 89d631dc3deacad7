import type { Tree, TreeStatus, ZoneKind } from '@underbough/model'

export const habits = ['round', 'columnar', 'conical', 'weeping', 'palm'] as const
/** Rough shape of a crown. */
export type Habit = (typeof habits)[number]

/** What a portrait needs of a tree's record; everything unmeasured may be null. */
export type PortraitTree = Pick<
  Tree,
  'heightM' | 'crownBaseHeightM' | 'crownRadiiM' | 'lean' | 'stems' | 'species' | 'commonName'
> & { status: TreeStatus; group: { count: number } | null; habit?: Habit }

/** Something found, pinned where it is. */
export interface PortraitFinding {
  number: number
  name: string
  heightM: number | null
  /** Which side of the stem, degrees from true north; null stands on the stem's middle. */
  bearingDeg: number | null
  /** Distance out from the stem's middle along the bearing, for something in the crown; on the stem's face when not given. */
  outM?: number | null
}

/** The nearest target, as seen from the side. */
export interface PortraitTarget {
  name: string
  kind: ZoneKind
  /** Shortest distance from the stem, metres; 0 under the tree. */
  distanceM: number
  bearingDeg: number
  widthM: number
  /** Shown at a usual height for its kind when not known. */
  heightM?: number | null
}
