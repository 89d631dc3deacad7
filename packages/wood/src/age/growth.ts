import { done, type Outcome, refused } from '@underbough/model'
import { outside } from '../limits.ts'

/** How fast the stem has grown over its last ten rings. */
export interface RecentGrowth {
  ringMmPerYear: number
  /** On this radius twice over: a stem that grows more on one side grows otherwise. */
  diameterMmPerYear: number
}

/** Growth from the width of the last ten rings under the bark, mm. Code: `out-of-range`. */
export function recentGrowth(outerTenRingsMm: number): Outcome<RecentGrowth> {
  const wrong = outside({ outerTenRingsMm: [outerTenRingsMm, 0.01, 1000, 'mm'] })
  if (wrong.length > 0) return refused(...wrong)
  return done({ ringMmPerYear: outerTenRingsMm / 10, diameterMmPerYear: outerTenRingsMm / 5 })
}
