/** A Gauss-Legendre rule on 0..1. */
export interface Rule {
  size: number
  at: Float64Array
  weight: Float64Array
  /**
   * Times the values at the nodes and summed: how much the highest Legendre term that the nodes can tell has in them. What
   * the rule leaves out is smaller by about as much again.
   */
  highest: Float64Array
}

/** The rule of so many points: roots of the Legendre polynomial by Newton's method from the usual first guess. */
export function gaussRule(size: number): Rule {
  const at = new Float64Array(size)
  const weight = new Float64Array(size)
  const highest = new Float64Array(size)
  for (let i = 0; i < size; i++) {
    let x = Math.cos((Math.PI * (size - i - 0.25)) / (size + 0.5))
    for (let step = 0; step < 20; step++) {
      const { p, slope } = legendre(size, x)
      x -= p / slope
    }
    const { slope, before } = legendre(size, x)
    at[i] = (1 + x) / 2
    weight[i] = 1 / ((1 - x * x) * slope * slope)
    highest[i] = weight[i]! * before * (2 * size - 1)
  }
  return { size, at, weight, highest }
}

/** Value and slope of the Legendre polynomial of a degree, and the value of the one below it. */
function legendre(degree: number, x: number) {
  let before = 1
  let p = x
  for (let n = 2; n <= degree; n++) {
    const next = ((2 * n - 1) * x * p - (n - 1) * before) / n
    before = p
    p = next
  }
  return { p, before, slope: (degree * (before - x * p)) / (1 - x * x) }
}
