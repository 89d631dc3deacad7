import { done, type Outcome, refused } from '@underbough/model'
import { outside } from '../limits.ts'
import { type InnermostArc, pithFromArc } from './pith.ts'

/** Where the counting of rings stopped: at the top of the innermost complete arc, or on past it to the arc's chord. */
export type CountedTo = 'arc' | 'chord'

/** Width of the innermost rings, as it was read. */
export interface InnerWidths {
  /** Innermost first; the three innermost are used (Duncan 1989). */
  innermostRingsMm?: readonly number[] | null
  /** Used where no single widths were read. */
  innermost10mmRings?: number | null
}

/** Rings between the last one counted and the pith. */
export interface MissingRings {
  least: number
  middle: number
  most: number
  /** Length of wood they fill. */
  lengthMm: number
  meanWidthMm: number
  how: string
}

/** `A`: growth near the pith may be this much faster or slower than that of the innermost rings read, beyond their own spread. */
const widthDoubt = 1.25

function widthsOf({ innermostRingsMm, innermost10mmRings }: InnerWidths): number[] {
  if (innermostRingsMm && innermostRingsMm.length > 0) return innermostRingsMm.slice(0, 3)
  return innermost10mmRings ? [10 / innermost10mmRings] : []
}

/**
 * Rings missing to the pith: a length over the mean width of the three innermost rings (Duncan 1989), as a range over their spread and at
 * least a quarter either way (`A`). Null where no width was read.
 *
 * Which length: rings counted from the bark to the *top of the innermost complete arc* leave the arc's radius r. Where the pieces of rings
 * within the arc were counted, too, down to its chord, only r − h is left; r would count them twice. Asked by `countedTo`; r is Duncan's
 * way and the default.
 *
 * Codes: those of `pithFromArc`, `out-of-range` for a width.
 */
export function missingRings(
  arc: InnermostArc,
  inner: InnerWidths,
  countedTo: CountedTo = 'arc',
): Outcome<MissingRings | null> {
  const distance = pithFromArc(arc)
  if (!distance.ok) return distance
  const widths = widthsOf(inner)
  const wrong = outside(
    Object.fromEntries(
      widths.map((width, i) => [`innermostRingsMm.${i}`, [width, 0.01, 100, 'mm'] as const]),
    ),
  )
  if (wrong.length > 0) return refused(...wrong)
  if (widths.length === 0) return done(null)
  const lengthMm = countedTo === 'arc' ? distance.value.arcRadiusMm : distance.value.remainingMm
  const meanWidthMm = widths.reduce((sum, width) => sum + width, 0) / widths.length
  const widest = Math.max(...widths, meanWidthMm * widthDoubt)
  const narrowest = Math.min(...widths, meanWidthMm / widthDoubt)
  const from = countedTo === 'arc' ? 'the innermost complete arc' : 'the chord of the innermost complete arc'
  return done({
    least: Math.floor(lengthMm / widest),
    middle: lengthMm / meanWidthMm,
    most: Math.ceil(lengthMm / narrowest),
    lengthMm,
    meanWidthMm,
    how: `${lengthMm.toFixed(1)} mm from ${from} to the pith, at ${narrowest.toFixed(2)} to ${widest.toFixed(2)} mm a ring`,
  })
}
