import { done, type Outcome, refusal, refused } from '@underbough/model'
import { outside } from '../limits.ts'

/** kg/m³, the recommended value of EN 1991-1-4. */
export const airDensityKgM3 = 1.25

/** Roughness of the ground around, EN 1991-1-4 Table 4.1, with our words for them. */
export const terrains = {
  '0': { z0M: 0.003, zMinM: 1, says: 'open sea or coast' },
  I: { z0M: 0.01, zMinM: 1, says: 'lakes, flat ground with nothing on it' },
  II: { z0M: 0.05, zMinM: 2, says: 'low plants, single trees and buildings far apart' },
  III: { z0M: 0.3, zMinM: 5, says: 'villages, suburbs, woods' },
  IV: { z0M: 1, zMinM: 10, says: 'towns: much of the ground built over, over 15 m high' },
} as const
export type Terrain = keyof typeof terrains

/** Highest point the terrain formula speaks of. */
const ceilingM = 200

/** Wind at a height by the code. The peak pressure holds the gust already. */
export interface TerrainWind {
  terrainFactor: number
  roughnessFactor: number
  /** Mean over ten minutes. */
  meanMps: number
  turbulenceIntensity: number
  peakPressurePa: number
  /** Speed whose ½ρv² is the peak pressure; comparable with a gust over three seconds. */
  peakMps: number
}

/**
 * Mean wind, turbulence and peak pressure at a height over flat ground, from a *ten-minute mean* at 10 m over terrain II.
 * EN 1991-1-4, 4.3 to 4.5: k_r = 0.19 (z₀/0.05)^0.07, c_r = k_r ln(z/z₀), I_v = 1/ln(z/z₀), q_p = (1 + 7 I_v) ½ρ v_m²; under z_min the
 * value at z_min. The code is for structures: its shape factors and size factors do not know trees.
 * Codes: `out-of-range`; `wind-terrain-height` under the ground or over 200 m.
 */
export function terrainWind(vbMps: number, terrain: Terrain, heightM: number): Outcome<TerrainWind> {
  const wrong = outside({ vbMps: [vbMps, 0, 100, 'm/s'] })
  if (!(heightM >= 0 && heightM <= ceilingM))
    wrong.push(refusal('wind-terrain-height', 'heightM', { value: heightM, limit: `0 to ${ceilingM} m` }))
  if (wrong.length > 0) return refused(...wrong)
  const { z0M, zMinM } = terrains[terrain]
  const log = Math.log(Math.max(heightM, zMinM) / z0M)
  const terrainFactor = 0.19 * (z0M / 0.05) ** 0.07
  const roughnessFactor = terrainFactor * log
  const meanMps = roughnessFactor * vbMps
  const turbulenceIntensity = 1 / log
  const peakPressurePa = (1 + 7 * turbulenceIntensity) * 0.5 * airDensityKgM3 * meanMps ** 2
  return done({
    terrainFactor,
    roughnessFactor,
    meanMps,
    turbulenceIntensity,
    peakPressurePa,
    peakMps: Math.sqrt((2 * peakPressurePa) / airDensityKgM3),
  })
}

/**
 * Factor on the ten-minute speed for another return period than fifty years: c_prob of EN 1991-1-4, 4.2 with the recommended K 0.2 and
 * n 0.5 (formula from memory). Code: `out-of-range` under 2 or over 1000 years.
 */
export function returnFactor(returnYears: number): Outcome<number> {
  const wrong = outside({ returnYears: [returnYears, 2, 1000, 'years'] })
  if (wrong.length > 0) return refused(...wrong)
  const term = (chance: number) => 1 - 0.2 * Math.log(-Math.log(1 - chance))
  return done(Math.sqrt(term(1 / returnYears) / term(1 / 50)))
}
