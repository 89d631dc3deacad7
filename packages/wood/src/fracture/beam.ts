/**
 * A core held at one end and pressed at the other: a cantilever of round section under a load at its end (beam theory, any handbook).
 * Over-simple for large bends. The lever shortens as the end goes round: stress and stiffness come out too high (stiffness by 3 % at 16°, 8 % at
 * 26°). Wood yields before it breaks: stress comes out too high, stiffness too low. The grip gives: stiffness comes out too low.
 * The fibres of a core lie *across* its length: both figures are across the grain.
 */

/** Bending stress at the grip, MPa: σ = 32 F a / (π d³). N and mm in. */
export function bendingStressMPa(loadN: number, leverMm: number, diameterMm: number): number {
  return (32 * loadN * leverMm) / (Math.PI * diameterMm ** 3)
}

/** Stiffness, GPa, from the slope at the loaded end: E = F a² / (2 I θ), I = π d⁴/64, θ in radians. Null where it did not bend. */
export function stiffnessGPa(
  loadN: number,
  leverMm: number,
  diameterMm: number,
  angleDeg: number,
): number | null {
  if (angleDeg <= 0) return null
  const secondMomentMm4 = (Math.PI * diameterMm ** 4) / 64
  return (loadN * leverMm ** 2) / (2 * secondMomentMm4 * ((angleDeg * Math.PI) / 180)) / 1000
}
