import type { Bins } from './bins.ts'
import type { Named } from './naming.ts'
import { median } from './robust.ts'

/** How far a border is moved at most, cm. */
const reachCm = 0.7

/**
 * Puts each border between two names where the values of both sides lie nearest to their own level, in sum. Change points in spread lean
 * towards the even side: where one condition passes slowly into the other they would give the passage to the firm wood.
 */
export function settled(segments: Named[], stretches: Bins[]): Named[] {
  const moved = segments.map((segment) => ({ ...segment }))
  for (let i = 1; i < moved.length; i++) {
    if (!moved[i].joined) continue
    const bins = stretches.find(({ fromCm, toCm }) => fromCm < moved[i].fromCm && moved[i].fromCm < toCm)
    if (!bins) continue
    const atCm = bestSplit(bins, moved[i - 1], moved[i])
    moved[i - 1].toCm = atCm
    moved[i].fromCm = atCm
  }
  return moved
}

function bestSplit({ fromCm, widthCm, values }: Bins, before: Named, after: Named): number {
  const bin = (cm: number) => Math.min(values.length, Math.max(0, Math.round((cm - fromCm) / widthCm)))
  const border = bin(after.fromCm)
  const reach = Math.min(
    Math.round(reachCm / widthCm),
    (border - bin(before.fromCm)) >> 1,
    (bin(after.toCm) - border) >> 1,
  )
  const levelBefore = median(values.subarray(bin(before.fromCm), border))
  const levelAfter = median(values.subarray(border, bin(after.toCm)))
  let sum = 0
  let best = { sum: 0, at: border - reach }
  for (let at = border - reach; at < border + reach; at++) {
    sum += Math.abs(values[at] - levelBefore) - Math.abs(values[at] - levelAfter)
    if (sum < best.sum) best = { sum, at: at + 1 }
  }
  return fromCm + best.at * widthCm
}
