import { defaultExposurePolicy, heightFromStemM } from '@underbough/exposure'
import { combinedDiameterCm } from '@underbough/model'
import { radians } from '../draw/geometry.ts'
import { habitOf } from './habit.ts'
import type { Habit, PortraitTree } from './types.ts'

/** A tree with every length it is drawn by, metres, and which of them nobody measured. */
export interface Drawn {
  habit: Habit
  heightM: number
  crownBaseM: number
  /** To the east and west of the foot, as the record has them. */
  eastM: number
  westM: number
  northM: number
  southM: number
  stemM: number
  /** Others stand with it. */
  grouped: boolean
  /** Offset of the stem's axis from the foot at a height, metres towards the east. */
  axisM: (heightM: number) => number
  assumed: readonly ('height' | 'crown base' | 'crown radii' | 'stem')[]
}

// Assumption: where neither height nor stem is known the drawing stands at the size of a young street tree.
const UNKNOWN_HEIGHT_M = 8
// Assumption: a stump of unknown height is cut at about knee height.
const STUMP_HEIGHT_M = 0.5
const GREATEST_LEAN_DEG = 75

/** Measured lengths where there are any, else the same assumptions as the exposure figures make. */
export function drawnOf(tree: PortraitTree): Drawn {
  const assumed: Drawn['assumed'][number][] = []
  const assume = <T>(what: Drawn['assumed'][number], value: T): T => {
    assumed.push(what)
    return value
  }
  const measured =
    tree.stems.length > 0 ? combinedDiameterCm(tree.stems.map((s) => s.diameterCm)) / 100 : null
  const heightM = tree.heightM ?? assume('height', usualHeightM(tree, measured))
  const stemM = measured ?? assume('stem', heightM / defaultExposurePolicy.slenderness)
  const crownless = tree.status !== 'standing'
  const share = defaultExposurePolicy.crownRadiusShare * heightM
  const radii =
    tree.crownRadiiM ??
    (crownless
      ? { n: 0, e: 0, s: 0, w: 0 }
      : assume('crown radii', { n: share, e: share, s: share, w: share }))
  const base =
    tree.crownBaseHeightM ??
    (crownless ? heightM : assume('crown base', heightM * defaultExposurePolicy.crownBaseShare))
  const slope = tree.lean
    ? Math.tan(radians(Math.min(tree.lean.angleDeg, GREATEST_LEAN_DEG))) *
      Math.sin(radians(tree.lean.bearingDeg))
    : 0
  return {
    habit: tree.habit ?? habitOf(tree.species),
    heightM,
    crownBaseM: Math.min(base, heightM * 0.92),
    eastM: radii.e,
    westM: radii.w,
    northM: radii.n,
    southM: radii.s,
    stemM,
    grouped: tree.group !== null && tree.status === 'standing',
    axisM: (h) => slope * h,
    assumed,
  }
}

function usualHeightM(tree: PortraitTree, stemM: number | null): number {
  if (tree.status === 'stump') return STUMP_HEIGHT_M
  const estimate = heightFromStemM(stemM === null ? null : stemM * 100)
  return estimate.ok ? estimate.value : UNKNOWN_HEIGHT_M
}
