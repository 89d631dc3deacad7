import { done, type Outcome, refusal, refused } from '@underbough/model'
import { GRAVITY } from './part.ts'

export interface RiggingInput {
  massKg: number
  /** How far the piece falls before the rope draws tight, m. */
  dropM: number
  /** Rope between the piece and where its end is held, m. */
  ropeM: number
  /** Pull that would stretch the rope to twice its length, kN, as its maker states it (force over relative stretch). */
  ropeStiffnessKn: number
  /** Angle between the two legs of the rope at the rigging point; 0 for legs side by side. */
  legsApartDeg?: number
}

export interface RiggingLoad {
  /** Pull in the rope with the piece hanging still, kN. */
  hangingKn: number
  /** Greatest pull in the rope as it stops the piece, kN. */
  ropePeakKn: number
  /** What the rigging point must then hold: the pull of both legs together, kN. */
  pointPeakKn: number
  cautions: string[]
}

export const riggingCaution =
  'Rigging is for licensed crews. This is a figure for planning; the strength of the anchor, rope and gear, and how they are used, are theirs to judge.'

/**
 * What a rigging point must hold when a piece falls onto its rope. Energy balance of a mass caught by an elastic rope, no friction and no
 * slip, so an upper figure: F = m g (1 + √(1 + 2 s k / (m g))), with s the drop and k the rope's stiffness over its length; two legs at an
 * angle α bring 2 F cos(α/2) to the point (general mechanics). Code: `out-of-range`.
 */
export function riggingLoad(input: RiggingInput): Outcome<RiggingLoad> {
  const { massKg, dropM, ropeM, ropeStiffnessKn, legsApartDeg = 0 } = input
  const bounds = {
    massKg: [massKg, 0.1, 100_000],
    dropM: [dropM, 0, 60],
    ropeM: [ropeM, 0.1, 500],
    ropeStiffnessKn: [ropeStiffnessKn, 1, 100_000],
    legsApartDeg: [legsApartDeg, 0, 179],
  } as const
  const refusals = Object.entries(bounds)
    .filter(([, [value, least, most]]) => !(value >= least && value <= most))
    .map(([path, [value, least, most]]) =>
      refusal('out-of-range', path, { value, limit: `${least} to ${most}` }),
    )
  if (refusals.length > 0) return refused(...refusals)
  const weightKn = (massKg * GRAVITY) / 1000
  const peak = weightKn * (1 + Math.sqrt(1 + (2 * dropM * (ropeStiffnessKn / ropeM)) / weightKn))
  return done({
    hangingKn: weightKn,
    ropePeakKn: peak,
    pointPeakKn: 2 * peak * Math.cos((legsApartDeg * Math.PI) / 360),
    cautions: [
      riggingCaution,
      'Letting the rope run softens the stop; a knot, a wet rope or a short one hardens it.',
    ],
  })
}
