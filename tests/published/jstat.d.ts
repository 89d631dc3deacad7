/** The part of jstat that the interval checks use; the library brings no types of its own. */
declare module 'jstat' {
  /** Quantile of the chi-squared distribution. */
  export const jStat: { chisquare: { inv(p: number, degreesOfFreedom: number): number } }
}
