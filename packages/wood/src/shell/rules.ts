import { done, type Outcome, type Refusal, refusal, refused } from '@underbough/model'
import { outside } from '../limits.ts'
import { cubes, fourthPower, shellShares, wallOverRadius } from './published.ts'
import type { ShellInput, ShellRules, Stem } from './types.ts'

/** `A`: walls that differ by more than this share of the radius are not one even shell. */
const evenWithin = 0.1

function stemOf(input: ShellInput): Stem {
  const { radiusCm, wallCm, thickestWallCm } = input
  const openingAngleDeg = input.openingAngleDeg ?? (input.openingShare ?? 0) * 360
  return {
    radiusCm,
    wallCm,
    hollowShare: 1 - wallCm / radiusCm,
    openingShare: input.openingShare ?? openingAngleDeg / 360,
    openingAngleDeg,
    conifer: input.conifer ?? null,
    uneven: thickestWallCm != null && thickestWallCm - wallCm > evenWithin * radiusCm,
  }
}

/**
 * The published shell rules side by side, each with its figure, its lines, the domain it was made for and whether this place lies outside
 * it. They disagree by design: there is no mean and no verdict.
 * Codes: `out-of-range`, `reading-past-radius` where the wall is thicker than the radius.
 */
export function shellRules(input: ShellInput): Outcome<ShellRules> {
  const wrong: Refusal[] = outside({
    radiusCm: [input.radiusCm, 0.5, 600, 'cm'],
    wallCm: [input.wallCm, 0, Number.MAX_VALUE, 'cm'],
    openingShare: [input.openingShare ?? 0, 0, 1, 'of the circumference'],
    openingAngleDeg: [input.openingAngleDeg ?? 0, 0, 360, 'degrees'],
  })
  for (const path of ['wallCm', 'thickestWallCm'] as const) {
    const value = input[path]
    if (value != null && value > input.radiusCm + 1e-9)
      wrong.push(refusal('reading-past-radius', path, { value, limit: `at most ${input.radiusCm} cm` }))
  }
  if (wrong.length > 0) return refused(...wrong)
  const stem = stemOf(input)
  return done({
    rules: [wallOverRadius(stem), ...cubes(stem), fourthPower(stem), ...shellShares(stem)],
    sentence:
      'These rules were made from different trees and for different ends, and they disagree. None of them sees roots, unions, cracks, lean or wind.',
  })
}
