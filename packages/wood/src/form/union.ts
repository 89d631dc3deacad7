import { CM_PER_INCH, done, type Outcome, refused } from '@underbough/model'
import { outside } from '../limits.ts'

/** A fork: the thinner stem over the thicker, and what it took to pull such forks apart. */
export interface Fork {
  /** 0..1, thinner over thicker. */
  aspectRatio: number
  line: { at: number; says: string; source: string }
  /** Pull that split forks of this size; null beyond the sizes tried. */
  pull: { forceKgf: number; basis: string; source: string } | null
}

/** Forces measured in the trial, kgf; outside them the straight line says nothing. */
const triedKgf = { least: 64, most: 2363 } as const

/**
 * The aspect ratio of a fork beside its published line, and the pull that split red-maple forks of that size: F = 613 D − 1388 kgf without,
 * 537 D − 1285 with included bark. That D is in inches and of the thinner stem is inferred: in cm the forces would exceed the stem's own
 * strength.
 * Codes: `out-of-range`.
 */
export function forkOf(of: { thinnerCm: number; thickerCm: number; includedBark: boolean }): Outcome<Fork> {
  const wrong = outside({
    thinnerCm: [of.thinnerCm, 0.1, of.thickerCm, 'cm'],
    thickerCm: [of.thickerCm, 0.1, 1000, 'cm'],
  })
  if (wrong.length > 0) return refused(...wrong)
  const inches = of.thinnerCm / CM_PER_INCH
  const forceKgf = of.includedBark ? 537 * inches - 1285 : 613 * inches - 1388
  return done({
    aspectRatio: of.thinnerCm / of.thickerCm,
    line: {
      at: 0.7,
      says: 'with included bark, forks above it were flagged',
      source: 'Forests 2022, 13(7):1007',
    },
    pull:
      forceKgf < triedKgf.least || forceKgf > triedKgf.most
        ? null
        : {
            forceKgf,
            basis: `mean of ${of.includedBark ? 'forks with included bark' : 'forks without included bark'} in 26 red maples; that D is in inches and of the thinner stem is inferred`,
            source: 'Smiley 2003, Journal of Arboriculture, doi 10.48044/jauf.2003.013',
          },
  })
}
