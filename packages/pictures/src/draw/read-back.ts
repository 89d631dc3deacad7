/** For checks: what a drawing's markup says, read back as numbers. */

/** Attributes of the first element that has a text in its tag; empty when none has. */
export function attributes(html: string, has: string): Record<string, string> {
  const tag = [...html.matchAll(/<[a-z]+ [^>]*>/gi)].map((m) => m[0]).find((text) => text.includes(has)) ?? ''
  return Object.fromEntries([...tag.matchAll(/([\w-]+)="([^"]*)"/g)].map((m) => [m[1]!, m[2]!]))
}

/** End points of a path's absolute M, L, Q, C and A pieces. */
export function pathPoints(d: string): [number, number][] {
  return [...d.matchAll(/[MLQCA]([^MLQCAHVZ]*)/g)].flatMap((m) => {
    const numbers = (m[1]!.match(/-?[\d.]+/g) ?? []).map(Number)
    return numbers.length >= 2 ? [[numbers.at(-2)!, numbers.at(-1)!] as [number, number]] : []
  })
}

/** The metre rule of an elevation. */
export const metreTicks = (html: string): { m: number; y: number }[] =>
  [...html.matchAll(/data-metres="([\d.]+)" data-y="([-\d.]+)"/g)].map((m) => ({
    m: Number(m[1]),
    y: Number(m[2]),
  }))

/** True when no attribute holds NaN, an infinity, “undefined” or a number in powers of ten. */
export const noBadNumbers = (html: string): boolean =>
  !/(NaN|Infinity|undefined|"-?[\d.]+e[-+]?\d+"|[ ML,-][\d.]+e[-+]\d)/.test(html)
