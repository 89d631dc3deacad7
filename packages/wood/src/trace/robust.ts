/** Makes the median absolute deviation of a normal distribution its standard deviation: 1 / Φ⁻¹(3/4) (Hampel 1974, doi 10.2307/2285666). */
export const madToSigma = 1.4826

/** Median; the mean of the middle two where the count is even. NaN of nothing. */
export function median(values: ArrayLike<number>): number {
  return quantile(new Float64Array(values).sort(), 0.5)
}

/** Quantile of sorted values, straight between neighbours. NaN of nothing. */
export function quantile(sorted: Float64Array, share: number): number {
  const at = (sorted.length - 1) * share
  const low = Math.floor(at)
  const high = Math.min(low + 1, sorted.length - 1)
  return sorted.length === 0 ? Number.NaN : sorted[low] + (sorted[high] - sorted[low]) * (at - low)
}

/** The value at which half the weight is reached; 0 of nothing. */
export function weightedMedian(list: { value: number; weight: number }[]): number {
  const sorted = [...list].sort((a, b) => a.value - b.value)
  const half = sorted.reduce((sum, { weight }) => sum + weight, 0) / 2
  let sum = 0
  for (const { value, weight } of sorted) {
    sum += weight
    if (sum >= half) return value
  }
  return 0
}

/** Standard deviation of normal values as their median absolute deviation tells it. */
export function robustSigma(values: ArrayLike<number>, middle = median(values)): number {
  const away = new Float64Array(values)
  for (let i = 0; i < away.length; i++) away[i] = Math.abs(away[i] - middle)
  return madToSigma * median(away)
}

/** Median of the values at most `half` places away; towards the ends the window is shorter. */
export function runningMedian(values: Float64Array, half: number): Float64Array {
  const sorted: number[] = []
  const medians = new Float64Array(values.length)
  for (let i = 0; i < Math.min(half, values.length); i++)
    sorted.splice(placeOf(sorted, values[i]), 0, values[i])
  for (let i = 0; i < values.length; i++) {
    if (i + half < values.length) sorted.splice(placeOf(sorted, values[i + half]), 0, values[i + half])
    if (i - half > 0) sorted.splice(placeOf(sorted, values[i - half - 1]), 1)
    const middle = sorted.length >> 1
    medians[i] = sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2
  }
  return medians
}

/** Where `value` stands, or would stand, in a sorted list. */
function placeOf(sorted: number[], value: number): number {
  let low = 0
  let high = sorted.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (sorted[middle] < value) low = middle + 1
    else high = middle
  }
  return low
}

/**
 * Hampel's filter: a value further than `sigmas` robust standard deviations from the median of its window becomes that median
 * (Pearson 2002, doi 10.1109/87.974338). Rings make every window uneven, so that they are left; a lone spike is not.
 */
export function hampel(values: Float64Array, half: number, sigmas: number): Float64Array {
  const medians = runningMedian(values, half)
  return values.map((value, i) => {
    const window = values.subarray(Math.max(0, i - half), i + half + 1)
    return Math.abs(value - medians[i]) > sigmas * robustSigma(window, medians[i]) ? medians[i] : value
  })
}

/** Mean of the values at most `half` places away; towards the ends the window is shorter. */
export function runningMean(values: Float64Array, half: number): Float64Array {
  const means = new Float64Array(values.length)
  let sum = 0
  let count = 0
  for (let i = -half; i < values.length; i++) {
    if (i + half < values.length) {
      sum += values[i + half]
      count += 1
    }
    if (i - half > 0) {
      sum -= values[i - half - 1]
      count -= 1
    }
    if (i >= 0) means[i] = sum / count
  }
  return means
}
