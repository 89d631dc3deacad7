import type { FailureBand } from '@underbough/rating'

const figure = (n: number) => Number(n.toPrecision(1)).toLocaleString('en-GB')

/** A number expected per year, to one figure: `3 a year`, `once in 20 years`. No finer: the figure behind it is a range. */
export function sayExpected(perYear: number): string {
  if (!(perYear > 0)) return 'never'
  if (perYear >= 0.95) return `${figure(Math.max(1, perYear))} a year`
  return `once in ${figure(1 / perYear)} years`
}

/** A yearly chance to one figure: `1 in 4,000`. */
export function sayChance(chance: number): string {
  if (!(chance > 0)) return 'none'
  return chance > 0.5 ? 'more than 1 in 2' : `1 in ${figure(1 / chance)}`
}

/** Both ends, the smaller first; one where they read alike. */
export function saySpan(
  { least, most }: { least: number; most: number },
  say: (n: number) => string,
): string {
  const [low, high] = [say(least), say(most)]
  return low === high ? low : `${low} to ${high}`
}

/** Failures over a record: whole from ten on, two figures below. */
export const sayFailures = (n: number): string =>
  n === 0 ? '0' : n < 9.95 ? String(Number(n.toPrecision(2))) : Math.round(n).toLocaleString('en-GB')

/** `0.001 % to 0.1 %`. */
export const sayBand = ({ from, to }: FailureBand): string => `${sayPercent(from)} to ${sayPercent(to)}`
export const sayPercent = (chance: number): string => `${Number((chance * 100).toPrecision(3))} %`
