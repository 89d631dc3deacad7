/** What is left of a solid round section: area, second moment and section modulus, and their losses as shares of the solid one. */
export interface HollowSection {
  area: number
  secondMoment: number
  sectionModulus: number
  areaLoss: number
  secondMomentLoss: number
  sectionModulusLoss: number
}

/**
 * A round stem of radius R with a round cavity of radius b whose middle lies e from the stem's, along the load (parallel-axis theorem; any
 * one length unit). The neutral axis moves to y = −b²e/(R² − b²); Z = I/(R + |y|), the least over the two edges. e = 0 is the concentric
 * ring, where both losses are (b/R)⁴. RangeError unless 0 ≤ b < R and |e| + b ≤ R.
 */
export function offCentreCavity({ R, b, e }: { R: number; b: number; e: number }): HollowSection {
  if (!(R > 0 && b >= 0 && b < R && Math.abs(e) + b <= R * (1 + 1e-12)))
    throw new RangeError(`a cavity lies within its stem: R ${R}, b ${b}, e ${e}`)
  const area = Math.PI * (R * R - b * b)
  const y = -(b * b * e) / (R * R - b * b)
  const secondMoment =
    (Math.PI * R ** 4) / 4 +
    Math.PI * R * R * y * y -
    ((Math.PI * b ** 4) / 4 + Math.PI * b * b * (e - y) ** 2)
  const sectionModulus = secondMoment / (R + Math.abs(y))
  return {
    area,
    secondMoment,
    sectionModulus,
    areaLoss: 1 - area / (Math.PI * R * R),
    secondMomentLoss: 1 - secondMoment / ((Math.PI * R ** 4) / 4),
    sectionModulusLoss: 1 - sectionModulus / ((Math.PI * R ** 3) / 4),
  }
}
