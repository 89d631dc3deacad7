import type { PlanePoint } from '../section/types.ts'
import type { Moments } from './moments.ts'

/**
 * Section modulus for bending towards each bearing: Z(e) = 1 / max over corners of |eᵀ C⁻¹ (x − x̄)|, in the cube of the points' unit. Not
 * I/c, which overstates off the principal axes (by 34 % for a ring with a 120° opening). `corners` are flat pairs x, y: all corners of what
 * is left, inner edges too. All zeros where the area has no width in some direction.
 */
export function sectionModuli(
  moments: Moments,
  corners: ArrayLike<number>,
  bearingsDeg: readonly number[],
): Float64Array {
  const { xx, yy, xy, centroid } = moments
  const out = new Float64Array(bearingsDeg.length)
  const determinant = xx * yy - xy * xy
  if (!(determinant > 1e-12 * xx * yy)) return out
  const count = corners.length / 2
  const u = new Float64Array(count)
  const v = new Float64Array(count)
  for (let i = 0; i < count; i++) {
    const x = corners[2 * i]! - centroid[0]
    const y = corners[2 * i + 1]! - centroid[1]
    u[i] = (yy * x - xy * y) / determinant
    v[i] = (xx * y - xy * x) / determinant
  }
  bearingsDeg.forEach((bearing, b) => {
    const s = Math.sin((bearing * Math.PI) / 180)
    const c = Math.cos((bearing * Math.PI) / 180)
    let most = 0
    for (let i = 0; i < count; i++) {
      const stress = Math.abs(s * u[i]! + c * v[i]!)
      if (stress > most) most = stress
    }
    out[b] = most > 0 ? 1 / most : 0
  })
  return out
}

/** The same from rings of points, for one bearing. */
export function sectionModulus(
  moments: Moments,
  rings: readonly (readonly PlanePoint[])[],
  bearingDeg: number,
): number {
  return sectionModuli(moments, rings.flat().flat(), [bearingDeg])[0]!
}
