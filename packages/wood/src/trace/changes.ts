/** How a row of values is cut: penalty for each cut, fewest values between two cuts, least variance counted. */
export interface CutRule {
  penalty: number
  fewest: number
  leastVariance: number
}

/**
 * Cost of values `from` to below `to` as one stretch: twice the negative log likelihood of a normal with its own mean and variance,
 * without the constant; the variance is at least `leastVariance`.
 */
type StretchCost = (from: number, to: number) => number

function normalCost(values: ArrayLike<number>, leastVariance: number): StretchCost {
  const sums = new Float64Array(values.length + 1)
  const squares = new Float64Array(values.length + 1)
  for (let i = 0; i < values.length; i++) {
    sums[i + 1] = sums[i] + values[i]
    squares[i + 1] = squares[i] + values[i] * values[i]
  }
  return (from, to) => {
    const n = to - from
    const mean = (sums[to] - sums[from]) / n
    const found = Math.max(0, (squares[to] - squares[from]) / n - mean * mean)
    const variance = Math.max(found, leastVariance)
    return n * (Math.log(variance) + found / variance)
  }
}

/**
 * Places at which values change in mean or variance: the cuts of least total cost, each cut costing `penalty`. Exact: optimal partitioning
 * (Jackson et al. 2005, doi 10.1109/LSP.2001.838216) with the pruning of PELT (Killick, Fearnhead, Eckley 2012,
 * doi 10.1080/01621459.2012.737745). A place that can be pruned stays until a cut at the present place may be followed by another, because
 * stretches have a least length. Gives the index at which each new stretch begins.
 */
export function changePoints(
  values: ArrayLike<number>,
  { penalty, fewest, leastVariance }: CutRule,
): number[] {
  const n = values.length
  const cost = normalCost(values, leastVariance)
  const best = new Float64Array(n + 1).fill(Number.POSITIVE_INFINITY)
  best[0] = 0
  const cameFrom = new Int32Array(n + 1)
  // A place is dropped once `to` has come to the place's own mark.
  let open: { from: number; until: number }[] = []
  for (let to = fewest; to <= n; to++) {
    if (Number.isFinite(best[to - fewest])) open.push({ from: to - fewest, until: Number.POSITIVE_INFINITY })
    for (const place of open) {
      const total = best[place.from] + cost(place.from, to) + penalty
      if (total < best[to]) {
        best[to] = total
        cameFrom[to] = place.from
      }
    }
    for (const place of open)
      if (place.until === Number.POSITIVE_INFINITY && best[place.from] + cost(place.from, to) >= best[to])
        place.until = to + fewest
    open = open.filter((place) => place.until > to + 1)
  }
  const cuts: number[] = []
  if (n >= fewest) for (let at = cameFrom[n]; at > 0; at = cameFrom[at]) cuts.push(at)
  return cuts.reverse()
}
