import { CM_PER_INCH, done, type Outcome, refusal, refused } from '@underbough/model'
import { outside } from '../limits.ts'

/** What a boring needs to say how much of the radius it read. Depths from the outside of the bark. */
export interface ReachInput {
  /** Outside of the bark. */
  radiusCm: number
  barkCm: number
  borerLengthCm: number
  /** How deep the borer went; its whole length where not said. */
  reachedCm?: number | null
  /** Between where it points and the middle of the stem, as seen from above; 0 is straight in. */
  offRadiusDeg?: number
}

/** How much of the wood from bark to pith a boring passed. The pith is taken to lie in the middle. */
export interface Reach {
  /** 0..1 of the radius without bark. */
  sampledShare: number
  sampledCm: number
  unreadCm: number
  /** Sentence on what the longest borer in common use can reach here. */
  longestBorer: { lengthCm: number; unreadCm: number; sentence: string; source: string }
}

/** Longest borer that is practical to turn by hand: 16 in, so a stem over 32 in across keeps a centre nobody reads (common practice, no source). */
export const longestBorerCm = 16 * CM_PER_INCH

/**
 * Share of the radius that a boring sampled, and what stays unread. Aimed past the middle, it comes no nearer than its closest point.
 * Codes: `out-of-range`, `reading-past-borer` (deeper than the borer is long), `reading-past-stem` (deeper than the stem is thick there).
 */
export function reachOf(input: ReachInput): Outcome<Reach> {
  const { radiusCm, barkCm, borerLengthCm, offRadiusDeg = 0 } = input
  const reachedCm = input.reachedCm ?? borerLengthCm
  const wrong = outside({
    radiusCm: [radiusCm, 0.5, 600, 'cm'],
    barkCm: [barkCm, 0, Math.max(0, radiusCm), 'cm'],
    borerLengthCm: [borerLengthCm, 0.1, 150, 'cm'],
    reachedCm: [reachedCm, 0, 600, 'cm'],
    offRadiusDeg: [offRadiusDeg, -89, 89, 'degrees'],
  })
  if (wrong.length > 0) return refused(...wrong)
  if (reachedCm > borerLengthCm + 1e-9)
    return refused(
      refusal('reading-past-borer', 'reachedCm', { value: reachedCm, limit: `at most ${borerLengthCm} cm` }),
    )
  const woodRadiusCm = radiusCm - barkCm
  const off = (offRadiusDeg * Math.PI) / 180
  const thicknessCm = 2 * radiusCm * Math.cos(off)
  // A borer's whole length may be longer than the stem is thick; only a depth somebody read can be wrong.
  if (input.reachedCm != null && reachedCm > thicknessCm + 1e-9)
    return refused(
      refusal('reading-past-stem', 'reachedCm', { value: reachedCm, limit: `at most ${thicknessCm} cm` }),
    )
  const depthCm = Math.max(0, reachedCm - barkCm)
  const closestAtCm = woodRadiusCm * Math.cos(off)
  const s = Math.min(depthCm, closestAtCm)
  const unreadCm = Math.sqrt(Math.max(0, woodRadiusCm ** 2 + s ** 2 - 2 * s * closestAtCm))
  const beyondCm = Math.max(0, radiusCm - longestBorerCm)
  return done({
    sampledShare: woodRadiusCm > 0 ? 1 - unreadCm / woodRadiusCm : 0,
    sampledCm: woodRadiusCm - unreadCm,
    unreadCm,
    longestBorer: {
      lengthCm: longestBorerCm,
      unreadCm: beyondCm,
      sentence:
        beyondCm > 0
          ? `A borer of 16 in, the longest in practical use, leaves the innermost ${beyondCm.toFixed(0)} cm unread.`
          : 'A borer of 16 in, the longest in practical use, can reach the middle.',
      source: 'common practice, no source',
    },
  })
}
