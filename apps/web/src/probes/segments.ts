import type { WoodSegment } from '@underbough/model'
import { bordersOf, moveBorder } from '@underbough/wood'

/** Depths of a trace are known to a tenth of a millimetre at best. */
const hundredth = (cm: number) => Math.round(cm * 100) / 100

/** The bark ends at another depth; where the first segment began at its end, it begins there now. */
export function moveBark(
  { barkCm, segments }: { barkCm: number | null; segments: readonly WoodSegment[] },
  toCm: number,
): { barkCm: number; segments: WoodSegment[] } {
  const touches = segments.length > 0 && Math.abs(segments[0]!.fromCm - (barkCm ?? 0)) < 0.011
  return {
    barkCm: toCm,
    segments: touches ? rounded(moveBorder(segments, 0, toCm)) : [...segments],
  }
}

/** Segment `index` ends at another depth, as far as its neighbours let it. */
export function moveEnd(
  segments: readonly WoodSegment[],
  index: number,
  toCm: number,
  endCm: number,
): WoodSegment[] {
  const border = bordersOf(segments).findIndex(({ ends }) => ends === index)
  return border < 0 ? [...segments] : rounded(moveBorder(segments, border, toCm, endCm))
}
const rounded = (segments: readonly WoodSegment[]) =>
  segments.map((one) => ({ ...one, fromCm: hundredth(one.fromCm), toCm: hundredth(one.toCm) }))

/** One segment becomes two of its condition, divided in the middle. */
export function divide(segments: readonly WoodSegment[], index: number): WoodSegment[] {
  return segments.flatMap((one, i) => {
    if (i !== index) return [one]
    const middle = hundredth((one.fromCm + one.toCm) / 2)
    return [
      { ...one, toCm: middle },
      { ...one, fromCm: middle },
    ]
  })
}

/** A segment and the one behind it become one, with the condition of the first. */
export function joinNext(segments: readonly WoodSegment[], index: number): WoodSegment[] {
  const next = segments[index + 1]
  if (!next) return [...segments]
  return segments.flatMap((one, i) =>
    i === index ? [{ ...one, toCm: next.toCm }] : i === index + 1 ? [] : [one],
  )
}
