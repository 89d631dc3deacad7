import { done, type Outcome, refused } from '@underbough/model'
import { outside } from '../limits.ts'
import { bendingStressMPa, stiffnessGPa } from './beam.ts'

/** Strength of sound green wood to set a core beside. `across`: tried across the grain, as a core is; `along`: a handbook's clear specimens. */
export interface GreenWood {
  grain: 'across' | 'along'
  bendingStrengthMPa: number | null
  stiffnessGPa: number | null
}

/** A core bent piece by piece until it broke. */
export interface FractureInput {
  coreDiameterMm: number
  /** From the grip to where the load acts. */
  leverMm: number
  breaks: readonly { atCm: number; angleDeg: number; loadN: number }[]
  green?: GreenWood | null
}

/** How one piece broke beside the rest; null where there is nothing to set it beside. */
export type BreakManner = 'firm' | 'bends far' | 'snaps short' | 'weak'

export interface BreakResult {
  atCm: number
  strengthMPa: number
  /** Null where the piece broke without a bend that could be read. */
  stiffnessGPa: number | null
  /** Over what it is set beside; null without. */
  strengthShare: number | null
  stiffnessShare: number | null
  manner: BreakManner | null
  /** Always a hint, never a diagnosis. */
  hint: string | null
  /** The bend is too large for beam theory to be more than an order of size. */
  largeBend: boolean
}

export interface FractureResult {
  breaks: BreakResult[]
  /** What the shares are of. */
  beside: 'sound green wood across the grain' | 'the middle of this core’s own breaks' | null
  /** Share of a handbook's strength along the grain, for the sake of order only; never read as a loss. */
  ofAlongGrain: {
    bendingStrengthShare: number | null
    stiffnessShare: number | null
    sentence: string
  } | null
  caution: string
}

/** `A`: below two thirds of what it is set beside a figure counts as low. */
const lowShare = 2 / 3
/** `A`: beyond this bend the small-angle slope is more than a few per cent out. */
const largeBendDeg = 15

const hints: Record<BreakManner, string> = {
  firm: 'Strength and stiffness are both what the comparison would lead one to expect: a hint, not a diagnosis.',
  'bends far':
    'Low stiffness at high strength: it bends far and holds, as wood does that has lost what makes it stiff and kept its fibres. A hint, not a diagnosis.',
  'snaps short':
    'High stiffness at low strength: it hardly bends and snaps, as wood does that has lost its fibres’ strength and not its stiffness. A hint, not a diagnosis.',
  weak: 'Strength and stiffness are both low, as in wood far gone, in very wide or narrow rings, or in a core that was damaged. A hint, not a diagnosis.',
}

function middleOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const half = sorted.length >> 1
  return sorted.length % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2
}

function mannerOf(strengthShare: number | null, stiffnessShare: number | null): BreakManner | null {
  if (strengthShare === null || stiffnessShare === null) return null
  if (strengthShare >= lowShare) return stiffnessShare >= lowShare ? 'firm' : 'bends far'
  return stiffnessShare >= lowShare ? 'snaps short' : 'weak'
}

const share = (value: number | null, of: number | null) =>
  value === null || of === null || of <= 0 ? null : value / of

/**
 * Bending strength and stiffness of a core at each break, by beam theory, with a hint at each. A break is set beside sound green wood
 * tried across the grain where that is given, else beside the middle of this core's own breaks (three or more). A handbook's figures along
 * the grain are shown as an order only. Code: `out-of-range`.
 */
export function fractureOf(input: FractureInput): Outcome<FractureResult> {
  const { coreDiameterMm, leverMm, green } = input
  const wrong = outside({
    coreDiameterMm: [coreDiameterMm, 1, 20, 'mm'],
    leverMm: [leverMm, 1, 200, 'mm'],
    breaks: [input.breaks.length, 1, 60, 'breaks'],
    ...Object.fromEntries(
      input.breaks.flatMap((one, i) => [
        [`breaks.${i}.angleDeg`, [one.angleDeg, 0, 90, 'degrees'] as const],
        [`breaks.${i}.loadN`, [one.loadN, 0, 2000, 'N'] as const],
      ]),
    ),
  })
  if (wrong.length > 0) return refused(...wrong)

  const raw = input.breaks.map((one) => ({
    ...one,
    strengthMPa: bendingStressMPa(one.loadN, leverMm, coreDiameterMm),
    stiffness: stiffnessGPa(one.loadN, leverMm, coreDiameterMm, one.angleDeg),
  }))
  const stiff = raw.flatMap((one) => (one.stiffness === null ? [] : [one.stiffness]))
  const across = green?.grain === 'across' ? green : null
  const own = !across && raw.length >= 3
  const ofStrength = across?.bendingStrengthMPa ?? (own ? middleOf(raw.map((one) => one.strengthMPa)) : null)
  const ofStiffness = across?.stiffnessGPa ?? (own && stiff.length >= 3 ? middleOf(stiff) : null)
  const along = green?.grain === 'along' ? green : null
  return done({
    breaks: raw.map((one) => {
      const strengthShare = share(one.strengthMPa, ofStrength)
      const stiffnessShare = share(one.stiffness, ofStiffness)
      const manner = mannerOf(strengthShare, stiffnessShare)
      return {
        atCm: one.atCm,
        strengthMPa: one.strengthMPa,
        stiffnessGPa: one.stiffness,
        strengthShare,
        stiffnessShare,
        manner,
        hint: manner && hints[manner],
        largeBend: one.angleDeg > largeBendDeg,
      }
    }),
    beside: across
      ? 'sound green wood across the grain'
      : own
        ? 'the middle of this core’s own breaks'
        : null,
    ofAlongGrain: along && {
      bendingStrengthShare: share(middleOf(raw.map((one) => one.strengthMPa)), along.bendingStrengthMPa),
      stiffnessShare: stiff.length > 0 ? share(middleOf(stiff), along.stiffnessGPa) : null,
      sentence:
        'A core bends across its fibres and the handbook’s figure is along them. Sound wood is several times weaker and softer across, so this share says nothing of a loss.',
    },
    caution:
      'Simple beam theory: it says too little of large bends, of a loose grip and of a core that is not round. Species, moisture and ring width move these figures as much as early decay does.',
  })
}
