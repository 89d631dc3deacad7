/** Two ends between which a rate or a share lies at a stated level. */
export interface Interval {
  least: number
  most: number
}

/** P(X ≤ count) for a Poisson count of a given mean; terms in logarithms, so that a large mean does not vanish. */
function chanceOfAtMost(count: number, mean: number): number {
  if (mean === 0) return 1
  let logTerm = -mean
  let sum = Math.exp(logTerm)
  for (let k = 1; k <= count; k++) {
    logTerm += Math.log(mean / k)
    sum += Math.exp(logTerm)
  }
  return Math.min(1, sum)
}

/** The mean at which a falling chance meets a level, by halving. */
function meanWhere(chanceOf: (mean: number) => number, level: number, startAt: number): number {
  let low = 0
  let high = Math.max(1, startAt)
  while (chanceOf(high) > level) high *= 2
  for (let i = 0; i < 200 && high - low > 1e-13 * high; i++) {
    const middle = (low + high) / 2
    if (chanceOf(middle) > level) low = middle
    else high = middle
  }
  return (low + high) / 2
}

const LARGEST_COUNT = 100_000
const checked = (count: number) => {
  if (!Number.isInteger(count) || count < 0 || count > LARGEST_COUNT)
    throw new RangeError(`a count is a whole number from 0 to ${LARGEST_COUNT}`)
}

/**
 * Exact two-sided interval of the mean behind a Poisson count (Garwood 1936, Biometrika 28:437), half the remainder left on
 * either side; the lower end of a count of 0 is 0. Throws RangeError on what is no count.
 */
export function poissonInterval(count: number, level = 0.95): Interval {
  checked(count)
  const tail = (1 - level) / 2
  return {
    least: count === 0 ? 0 : meanWhere((mean) => chanceOfAtMost(count - 1, mean), 1 - tail, count),
    most: meanWhere((mean) => chanceOfAtMost(count, mean), tail, count),
  }
}

/** Exact one-sided upper limit of the mean behind a Poisson count: for 0 it is −ln(1 − level), about 3 at 95 %. */
export function poissonUpper(count: number, level = 0.95): number {
  checked(count)
  return meanWhere((mean) => chanceOfAtMost(count, mean), 1 - level, count)
}

/** Failures per tree-year with the exact interval. Throws RangeError without tree-years. */
export function failureRate(count: number, treeYears: number): Interval & { rate: number } {
  if (!(treeYears > 0)) throw new RangeError('a rate needs tree-years')
  const { least, most } = poissonInterval(count)
  return { rate: count / treeYears, least: least / treeYears, most: most / treeYears }
}

/** Share of a number that did something, with the interval of Wilson (1927, JASA 22:209) at 95 %. Throws RangeError on an empty number. */
export function shareOf(did: number, of: number): Interval & { share: number } {
  if (!(of > 0 && did >= 0 && did <= of)) throw new RangeError('a share needs a number it is of')
  const z = 1.959963984540054
  const share = did / of
  const middle = (share + (z * z) / (2 * of)) / (1 + (z * z) / of)
  const half = (z * Math.sqrt((share * (1 - share)) / of + (z * z) / (4 * of * of))) / (1 + (z * z) / of)
  return { share, least: Math.max(0, middle - half), most: Math.min(1, middle + half) }
}

/**
 * Chance that at least one of several things comes about: between the largest (they come together) and the sum, never above
 * 1; `ifApart` holds where none has to do with another. In a storm they do.
 */
export function chanceOfAny(chances: readonly number[]): Interval & { ifApart: number } {
  const sum = chances.reduce((total, chance) => total + chance, 0)
  return {
    least: Math.max(0, ...chances),
    ifApart: -Math.expm1(chances.reduce((total, chance) => total + Math.log1p(-chance), 0)),
    most: Math.min(1, sum),
  }
}
