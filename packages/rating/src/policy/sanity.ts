/**
 * The interval at which the cost of looking and the harm of waiting balance, T* = √(2c / (Cκ)), in years: the minimum over T
 * of c/T + CκT/2, where detectable hazard grows evenly by κ since the last look. A sanity figure beside a policy, never an
 * interval itself: κ is not known for any tree. Costs in one currency; throws RangeError unless all three are above 0.
 */
export function balancedIntervalYears(of: {
  costOfLook: number
  costOfFailure: number
  /** κ: growth of the yearly hazard, per year squared. */
  hazardGrowthPerYear2: number
}): number {
  const { costOfLook, costOfFailure, hazardGrowthPerYear2 } = of
  for (const figure of [costOfLook, costOfFailure, hazardGrowthPerYear2])
    if (!(figure > 0)) throw new RangeError(`costs and growth are above 0, not ${figure}`)
  return Math.sqrt((2 * costOfLook) / (costOfFailure * hazardGrowthPerYear2))
}
