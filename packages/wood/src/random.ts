import { seededNumbers } from '@underbough/model'

/** Draws that depend on nothing but the seed. */
export interface Draws {
  /** 0 to below 1. */
  uniform(): number
  /** Mean 0, standard deviation 1. */
  normal(): number
  /** A standard normal that is at least `least`. */
  normalAtLeast(least: number): number
}

/** Numbers that are the same for the same seed, on every machine. */
export function drawsFrom(seed: number): Draws {
  const uniform = seededNumbers(seed)
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform())
  return {
    uniform,
    normal,
    /** Plain rejection near the middle, Robert's exponential proposal in the tail (Robert 1995, Statistics and Computing 5:121). */
    normalAtLeast(least) {
      if (least < 0.4) {
        for (;;) {
          const z = normal()
          if (z >= least) return z
        }
      }
      const rate = (least + Math.sqrt(least * least + 4)) / 2
      for (;;) {
        const z = least - Math.log(1 - uniform()) / rate
        if (uniform() <= Math.exp(-((z - rate) ** 2) / 2)) return z
      }
    },
  }
}
