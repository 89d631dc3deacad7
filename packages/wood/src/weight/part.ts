import { done, M_PER_FOOT, type Outcome, type Refusal, refusal, refused } from '@underbough/model'

/** Standard acceleration of free fall, m/s² (ISO 80000-3). */
export const GRAVITY = 9.80665
/** 1 lb in kg, exact (international avoirdupois pound). */
export const KG_PER_LB = 0.45359237
/** 1 lb/ft³ in kg/m³, from the exact pound and foot. */
export const KG_M3_PER_LB_FT3 = KG_PER_LB / M_PER_FOOT ** 3

/** Share of the wood's weight that twigs and leaves add (assumption). */
export const foliageShares = { 'in-leaf': 0.15, 'out-of-leaf': 0.05 } as const

export interface PartInput {
  /** Straight from end to end, m. */
  lengthM: number
  /** How far its middle bows out from the straight line, m; 0 for a straight part. The axis is then the arc of a circle. */
  bowM?: number
  buttDiameterCm: number
  tipDiameterCm: number
  /** Whether the diameters are of the part as it stands, bark and all (taken for granted), or of the wood alone: then bark is left out. */
  barkIncluded?: boolean
  /** Measured half-way along; then Newton's formula takes the place of the frustum of a cone. */
  middleDiameterCm?: number | null
  /** Twigs and leaves as a share of the wood's weight. */
  foliageShare: number
  /** Green density with its span, kg/m³. */
  densityKgM3: { value: number; least: number; most: number }
  /** Height of its middle above where it would land, m; null where only the weight is asked for. */
  heightM: number | null
}

/** A figure with its span. */
export interface Spanned {
  value: number
  least: number
  most: number
}

export interface PartWeight {
  /** Length along the axis, m. */
  axisM: number
  volumeM3: number
  formula: 'frustum' | 'newton'
  woodKg: Spanned
  /** Wood, twigs and leaves. */
  massKg: Spanned
  massLb: Spanned
  /** As it lands, without the drag of the air, so an upper figure: joules, and m/s. Null without a height. */
  landing: { energyJ: Spanned; speedMps: number } | null
  assumptions: string[]
}

const limits = {
  lengthM: [0.1, 80],
  bowM: [0, 30],
  buttDiameterCm: [1, 600],
  tipDiameterCm: [0, 600],
  middleDiameterCm: [0, 600],
  foliageShare: [0, 2],
  heightM: [0, 130],
} as const
const optional: ReadonlySet<string> = new Set(['bowM', 'middleDiameterCm', 'heightM'])

/**
 * Weight of a limb or a piece of stem, and its energy as it lands. Volume is the frustum of a cone along the axis, or, with a middle diameter,
 * Newton's formula L (A₀ + 4 Aₘ + A₁) / 6 (general forest mensuration). Codes: `required` and `out-of-range`, with the path of the figure.
 */
export function weighPart(input: PartInput): Outcome<PartWeight> {
  const {
    lengthM,
    bowM = 0,
    barkIncluded = true,
    middleDiameterCm: middle = null,
    foliageShare,
    heightM,
    densityKgM3: density,
  } = input
  const refusals: Refusal[] = []
  for (const [path, [least, most]] of Object.entries(limits)) {
    const value = input[path as keyof typeof limits]
    if (value === undefined || value === null) {
      if (!optional.has(path)) refusals.push(refusal('required', path))
    } else if (!(value >= least && value <= most))
      refusals.push(refusal('out-of-range', path, { value, limit: `${least} to ${most}` }))
  }
  if (
    !(
      density.least > 0 &&
      density.least <= density.value &&
      density.value <= density.most &&
      density.most < 2000
    )
  )
    refusals.push(refusal('out-of-range', 'densityKgM3', { value: density.value, limit: '0 to 2000 kg/m³' }))
  if (lengthM > 0 && bowM > (lengthM / 2) * (1 + 1e-9))
    refusals.push(
      refusal('out-of-range', 'bowM', {
        value: bowM,
        limit: `at most half the length, ${(lengthM / 2).toFixed(2)} m`,
        message:
          'A part that bows out by more than half its length bends back on itself. Weigh it in two pieces.',
      }),
    )
  if (refusals.length > 0) return refused(...refusals)

  const axisM = arcLengthM(lengthM, bowM)
  const [d0, d1] = [input.buttDiameterCm / 100, input.tipDiameterCm / 100]
  const volumeM3 =
    middle === null
      ? (Math.PI * axisM * (d0 * d0 + d0 * d1 + d1 * d1)) / 12
      : (Math.PI * axisM * (d0 * d0 + 4 * (middle / 100) ** 2 + d1 * d1)) / 24
  const times = (by: number): Spanned => ({
    value: density.value * by,
    least: density.least * by,
    most: density.most * by,
  })
  const mass = times(volumeM3 * (1 + foliageShare))
  return done({
    axisM,
    volumeM3,
    formula: middle === null ? 'frustum' : 'newton',
    woodKg: times(volumeM3),
    massKg: mass,
    massLb: times((volumeM3 * (1 + foliageShare)) / KG_PER_LB),
    landing:
      heightM === null
        ? null
        : {
            energyJ: times(volumeM3 * (1 + foliageShare) * GRAVITY * heightM),
            speedMps: Math.sqrt(2 * GRAVITY * heightM),
          },
    assumptions: [
      middle === null ? 'It tapers evenly from butt to tip.' : 'Its middle diameter was measured.',
      barkIncluded
        ? 'The diameters include the bark; it is weighed as if it were wood.'
        : 'The diameters are of the wood alone; the bark is not weighed.',
      `Twigs and leaves add ${Math.round(foliageShare * 100)} % to the wood.`,
      ...(heightM === null
        ? []
        : ['It falls freely from its middle height; the air is left out, so the energy is an upper figure.']),
    ],
  })
}

/** Length of a circle's arc from its chord and the height of its bow (a bow of nothing is the chord). */
export function arcLengthM(chordM: number, bowM: number): number {
  if (bowM < 1e-9 * chordM) return chordM
  const radius = (chordM * chordM) / (8 * bowM) + bowM / 2
  return 2 * radius * Math.asin(Math.min(1, chordM / (2 * radius)))
}
