import { done, type Outcome, refusal, refused } from '@underbough/model'
import { outside } from '../limits.ts'

/** The innermost complete ring's arc on a core that missed the pith: its chord and its height over the chord, mm. */
export interface InnermostArc {
  chordMm: number
  arcHeightMm: number
}

/** Two different lengths: from the pith to the top of the arc, and from the pith to the arc's chord. */
export interface PithDistance {
  /** Radius of the innermost complete arc. */
  arcRadiusMm: number
  /** What is left from the chord, where the wood on the core ends. Shorter than the radius by the height of the arc. */
  remainingMm: number
}

/**
 * How far the pith lies from the innermost complete arc: r = L²/8h + h/2 for chord L and height h, and r − h from its chord.
 * Rings are taken as circles about one pith. Refuses `out-of-range` for lengths not above 0 and `pith-arc` where h > L/2: over half a
 * circle the arc would hold the pith, so it was reached.
 *
 * Source: plane geometry; as used by Duncan 1989 (New Zealand Natural Sciences 16).
 */
export function pithFromArc({ chordMm, arcHeightMm }: InnermostArc): Outcome<PithDistance> {
  const wrong = outside({
    chordMm: [chordMm, 0.01, 1000, 'mm'],
    arcHeightMm: [arcHeightMm, 0.001, 1000, 'mm'],
  })
  if (wrong.length > 0) return refused(...wrong)
  if (arcHeightMm > chordMm / 2 + 1e-9)
    return refused(
      refusal('pith-arc', 'arcHeightMm', { value: arcHeightMm, limit: `at most ${chordMm / 2} mm` }),
    )
  const arcRadiusMm = chordMm ** 2 / (8 * arcHeightMm) + arcHeightMm / 2
  return done({ arcRadiusMm, remainingMm: arcRadiusMm - arcHeightMm })
}
