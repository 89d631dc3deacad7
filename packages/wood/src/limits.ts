import { type Refusal, refusal } from '@underbough/model'

/** One figure and where it must lie: value, least, most, unit in words. */
export type Bounded = readonly [value: number, least: number, most: number, unit: string]

/** A refusal `out-of-range` for every figure that is not a number within its limits (both included). Keys are paths. */
export function outside(figures: Readonly<Record<string, Bounded>>): Refusal[] {
  return Object.entries(figures)
    .filter(([, [value, least, most]]) => !(value >= least && value <= most))
    .map(([path, [value, least, most, unit]]) =>
      refusal('out-of-range', path, { value, limit: `${least} to ${most} ${unit}`.trim() }),
    )
}
