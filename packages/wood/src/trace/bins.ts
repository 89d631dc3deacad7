import { median } from './robust.ts'
import type { Trace } from './types.ts'

/** A stretch of the trace in equal steps of depth; value i is at `fromCm + (i + 0.5) · widthCm`. */
export interface Bins {
  fromCm: number
  toCm: number
  widthCm: number
  values: Float64Array
}

const finestCm = 0.05
const mostBins = 4000
/** A longer stretch without rows, and ten steps of the drill, is a gap: nothing is said of it. */
const gapCm = 0.5

/** The trace in bins of their medians, cut where rows are missing over half a centimetre. */
export function binned({ depthsCm, resistances }: Trace): Bins[] {
  const n = depthsCm.length
  const stepCm = median(depthsCm.subarray(1).map((depth, i) => depth - depthsCm[i]))
  const longest = Math.max(gapCm, 10 * stepCm)
  const widthCm = Math.max(finestCm, stepCm, (depthsCm[n - 1] - depthsCm[0]) / mostBins)
  const stretches: Bins[] = []
  for (let begin = 0, i = 1; i <= n; i++) {
    if (i < n && depthsCm[i] - depthsCm[i - 1] <= longest) continue
    const stretch = stretchOf(depthsCm.subarray(begin, i), resistances.subarray(begin, i), widthCm)
    if (stretch.values.length > 0) stretches.push(stretch)
    begin = i
  }
  return stretches
}

function stretchOf(depthsCm: Float64Array, resistances: Float64Array, widthCm: number): Bins {
  const fromCm = depthsCm[0]
  const toCm = depthsCm[depthsCm.length - 1]
  // Half a hundredth of a bin keeps the count the same however the depths were rounded on their way here.
  const values = new Float64Array(Math.floor((toCm - fromCm) / widthCm + 0.005))
  let begin = 0
  for (let bin = 0; bin < values.length; bin++) {
    let end = begin
    const upTo = fromCm + (bin + 1 - 1e-6) * widthCm
    while (end < depthsCm.length && depthsCm[end] < upTo) end++
    values[bin] =
      end > begin
        ? median(resistances.subarray(begin, end))
        : between(depthsCm, resistances, begin, fromCm + (bin + 0.5) * widthCm)
    begin = end
  }
  return { fromCm, toCm, widthCm, values }
}

/** Straight between the rows before and after, where a bin fell between two rows. */
function between(depthsCm: Float64Array, resistances: Float64Array, after: number, atCm: number): number {
  if (after <= 0) return resistances[0]
  if (after >= depthsCm.length) return resistances[depthsCm.length - 1]
  const share = (atCm - depthsCm[after - 1]) / (depthsCm[after] - depthsCm[after - 1])
  return resistances[after - 1] + share * (resistances[after] - resistances[after - 1])
}
