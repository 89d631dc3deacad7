import { combinedDiameterCm, done, type Outcome, refusal, refused, type TreeInput } from '@underbough/model'

/** Four crown radii, metres, towards true north, east, south and west. */
export interface CrownRadii {
  n: number
  e: number
  s: number
  w: number
}

/** A tree as it would fall: the whole tree, from its root plate. */
export interface FallingTree {
  /** Vertical height of the top above the ground. */
  heightM: number
  /** The height was not measured. */
  heightEstimated?: boolean
  stemDiameterCm: number | null
  crownBaseHeightM: number | null
  crownRadiiM: CrownRadii | null
  /** A standing stem without a crown. */
  pole?: boolean
  lean: { bearingDeg: number; angleDeg: number } | null
  /** Towards the open, for a tree on an edge. */
  clearingBearingDeg: number | null
  /** A direction the inspector states as known: it replaces every other reason. */
  knownBearingDeg?: number | null
  /** Share of strong gusts from each of 16 directions, north first, clockwise: where the wind comes FROM. */
  windRose?: readonly number[] | null
  /** Dead or brittle: pieces scatter beyond the reach. Never lowers a figure. */
  brittle?: boolean
  /** The ground about the tree: which way is down, and how steep, degrees from level. */
  slope?: { downhillBearingDeg: number; angleDeg: number } | null
}

type TreeFacts = Pick<
  TreeInput,
  'heightM' | 'stems' | 'crownBaseHeightM' | 'crownRadiiM' | 'lean' | 'clearingBearingDeg'
> & { status?: TreeInput['status']; deadOrBrittle?: boolean; slope?: TreeInput['slope'] }

// Assumption: an open-grown street or park tree levels off towards 36 m; half of the rest is reached at 60 cm.
const LEVEL_OFF_M = 35
const HALF_WAY_CM = 60
const STEM_HEIGHT_M = 1.3

/**
 * Height in metres that goes with a stem diameter in centimetres, for a tree nobody has measured. Assumption: a curve of
 * ours, 1.3 + 35 d / (d + 60), about 10 m at 20 cm and 21 m at 80 cm. Whatever uses it says that the height was estimated.
 * Refused (`required`, `diameter-implausible`) without a diameter above zero.
 */
export function heightFromStemM(stemDiameterCm: number | null): Outcome<number> {
  if (stemDiameterCm === null) return refused(refusal('required', 'heightM'))
  if (!(stemDiameterCm > 0) || !Number.isFinite(stemDiameterCm))
    return refused(refusal('diameter-implausible', 'stemDiameterCm', { value: stemDiameterCm }))
  return done(STEM_HEIGHT_M + (LEVEL_OFF_M * stemDiameterCm) / (stemDiameterCm + HALF_WAY_CM))
}

/**
 * The falling tree of a tree record. A height that is missing is estimated from the stems and marked so; with neither
 * height nor stem there is nothing to fall, and it is refused (`required`, path `heightM`).
 */
export function fallingTreeOf(
  tree: TreeFacts,
  windRose: readonly number[] | null = null,
): Outcome<FallingTree> {
  const stemDiameterCm = tree.stems.length ? combinedDiameterCm(tree.stems.map((s) => s.diameterCm)) : null
  const height = tree.heightM === null ? heightFromStemM(stemDiameterCm) : done(tree.heightM)
  if (!height.ok) return height
  if (!(height.value > 0))
    return refused(refusal('height-implausible', 'heightM', { value: height.value, limit: 'above 0 m' }))
  return done({
    heightM: height.value,
    heightEstimated: tree.heightM === null,
    stemDiameterCm,
    crownBaseHeightM: tree.crownBaseHeightM,
    crownRadiiM: tree.crownRadiiM,
    pole: tree.status === 'pole',
    lean: tree.lean,
    clearingBearingDeg: tree.clearingBearingDeg,
    windRose,
    brittle: tree.deadOrBrittle ?? false,
    slope: tree.slope ?? null,
  })
}
