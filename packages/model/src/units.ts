/** Exact conversions at the edges. Everything inside is metric. */
export const CM_PER_INCH = 2.54
export const M_PER_FOOT = 0.3048

/** Diameter of a round stem from its circumference, same unit. */
export const diameterFromCircumference = (circumference: number) => circumference / Math.PI

/** Several stems as one: √Σd², the diameter of a stem with the same sectional area. Centimetres in and out; 0 for none. */
export const combinedDiameterCm = (diametersCm: readonly number[]) =>
  Math.sqrt(diametersCm.reduce((sum, d) => sum + d * d, 0))
