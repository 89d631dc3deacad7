import { done, type Outcome, type Refusal, refusal, refused } from '@underbough/model'
import { clockwise, joined, smoothed } from './around.ts'
import type { OutlineInput, SectionReading } from './types.ts'

/** Radii by bearing, cm: outside of the bark, and without it. */
export interface Outline {
  basis: OutlineInput['by']
  outer(bearingDeg: number): number
  bark(bearingDeg: number): number
  /** Without bark: what the stem would be if sound. */
  wood(bearingDeg: number): number
  assumptions: string[]
}

/** How a middle can lie outside of what was measured: two neighbouring radii half a turn apart or more. */
const WIDEST_DEG = 179

/** The outline of the stem. Codes: `outline-crosses-itself`, `out-of-range`. */
export function outlineOf(input: OutlineInput, readings: readonly SectionReading[]): Outcome<Outline> {
  const refusals: Refusal[] = []
  const assumptions: string[] = []
  let outer: Outline['outer']
  if (input.by === 'radii') {
    const sorted = [...input.radii].sort((a, b) => a.bearingDeg - b.bearingDeg)
    sorted.forEach((one, i) => {
      const gap = clockwise(one.bearingDeg, sorted[(i + 1) % sorted.length]!.bearingDeg)
      if (gap === 0 || gap > WIDEST_DEG)
        refusals.push(
          refusal('outline-crosses-itself', `outline.radii.${input.radii.indexOf(one)}`, {
            value: one.bearingDeg,
            message:
              gap === 0
                ? `Two radii are given at ${one.bearingDeg}°. Keep one of them.`
                : `No radius is given for ${Math.round(gap)}° after ${one.bearingDeg}°. Measure the stem all the way round.`,
          }),
        )
    })
    outer = smoothed(input.radii.map((one) => ({ bearingDeg: one.bearingDeg, value: one.radiusCm })))
  } else {
    const radius = input.by === 'girth' ? input.girthCm / (2 * Math.PI) : input.diameterCm / 2
    if (!(radius > 0)) refusals.push(refusal('out-of-range', 'outline', { value: radius }))
    outer = () => radius
    assumptions.push(
      input.by === 'girth'
        ? 'One girth was measured, so the outline is drawn as a circle; a stem that is not round needs callipers or two tapes.'
        : `No outline was measured at this height: a circle of the recorded diameter, ${input.diameterCm} cm at ${input.measuredAtM} m, stands in for it.`,
    )
  }
  if (refusals.length > 0) return refused(...refusals)
  const barks = readings.map((one) => ({ bearingDeg: one.entryBearingDeg, value: one.barkCm }))
  const stated = input.by === 'stem-diameter' ? null : input.barkCm
  if (barks.length === 0 && stated === null)
    assumptions.push('The bark was not measured: it is counted as wood.')
  const bark = joined(barks, stated ?? 0)
  return done({
    basis: input.by,
    outer,
    bark,
    wood: (bearing) => Math.max(0.1, outer(bearing) - bark(bearing)),
    assumptions,
  })
}
