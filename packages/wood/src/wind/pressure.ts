import { done, type Outcome, refusal, refused } from '@underbough/model'
import { outside } from '../limits.ts'
import { airDensityKgM3, returnFactor, type Terrain, terrainWind } from './terrain.ts'

/** A mean over ten minutes at 10 m over terrain II, once in fifty years unless said: what wind maps for structures give. */
export interface MeanWind {
  kind: 'meanTenMin'
  vbMps: number
  terrain: Terrain
  returnYears?: number | null
}

/** A gust over three seconds as a station gives it, with the height of its instrument. */
export interface GustWind {
  kind: 'gust3s'
  speedMps: number
  heightM: number
}

/** Two kinds of figure that must never be taken for each other: a gust fed in as a mean counts the gust twice (× 2.8 in a suburb). */
export type Wind = MeanWind | GustWind

/**
 * Pressure of the wind at a height, Pa. A mean becomes the code's peak pressure; a gust enters as ½ρv² alone, the same at every height (`A`:
 * gusts grow little with height over a tree's length; the doubt is carried in the range of the pressure).
 * Codes: `out-of-range`, `wind-terrain-height`.
 */
export function windPressurePa(wind: Wind, heightM: number): Outcome<number> {
  if (wind.kind === 'meanTenMin') {
    const factor = wind.returnYears == null ? done(1) : returnFactor(wind.returnYears)
    if (!factor.ok) return factor
    const at = terrainWind(wind.vbMps * factor.value, wind.terrain, heightM)
    return at.ok ? done(at.value.peakPressurePa) : at
  }
  const wrong = outside({ speedMps: [wind.speedMps, 0, 150, 'm/s'] })
  for (const [path, value] of [['heightM', heightM] as const, ['wind.heightM', wind.heightM] as const])
    if (!(value >= 0 && value <= 200))
      wrong.push(refusal('wind-terrain-height', path, { value, limit: '0 to 200 m' }))
  if (wrong.length > 0) return refused(...wrong)
  return done(0.5 * airDensityKgM3 * wind.speedMps ** 2)
}
