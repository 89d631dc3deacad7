import type { TraceCurve } from './types.ts'

/** Points that a drawing takes. */
const drawnPoints = 1500

/** At most 1,500 points of a line; of every stretch the first least and greatest stay, so that no peak vanishes. */
export function thinned(depthsCm: Float64Array, resistances: Float64Array): TraceCurve {
  const n = depthsCm.length
  if (n <= drawnPoints) return { depthsCm: [...depthsCm], resistances: [...resistances] }
  const kept: number[] = []
  const stretches = drawnPoints / 2
  for (let stretch = 0; stretch < stretches; stretch++) {
    const from = Math.floor((stretch * n) / stretches)
    const to = Math.floor(((stretch + 1) * n) / stretches)
    let least = from
    let greatest = from
    for (let i = from + 1; i < to; i++) {
      if (resistances[i] < resistances[least]) least = i
      if (resistances[i] > resistances[greatest]) greatest = i
    }
    kept.push(...new Set([Math.min(least, greatest), Math.max(least, greatest)]))
  }
  return { depthsCm: kept.map((i) => depthsCm[i]), resistances: kept.map((i) => resistances[i]) }
}
