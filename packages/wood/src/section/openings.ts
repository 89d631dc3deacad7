import { type Refusal, refusal } from '@underbough/model'
import { clockwise } from './around.ts'
import type { Outline } from './outline.ts'
import { mostRead } from './place.ts'
import type { OpeningInput, PlacedOpening } from './types.ts'
import type { Cut } from './wall.ts'

/** Openings placed; how they cut the wall; and the wall at their edges, which is known as well as a reading. */
export function openingsOf(
  inputs: readonly OpeningInput[],
  outline: Outline,
): {
  openings: PlacedOpening[]
  cuts: Cut[]
  edges: { bearingDeg: number; wallCm: number }[]
  refusals: Refusal[]
} {
  const refusals: Refusal[] = []
  const openings = inputs.map((one): PlacedOpening => {
    const widthDeg = clockwise(one.fromBearingDeg, one.toBearingDeg)
    if (widthDeg === 0)
      refusals.push(
        refusal('out-of-range', `openings.${one.label}.toBearingDeg`, {
          value: one.toBearingDeg,
          message: `Both edges of ${one.label || 'the opening'} are at ${one.toBearingDeg}°. Give the bearing of each.`,
        }),
      )
    for (const side of ['from', 'to'] as const) {
      const wall = one.edgeWallsCm?.[side]
      const bearing = side === 'from' ? one.fromBearingDeg : one.toBearingDeg
      const radius = outline.wood(bearing)
      if (wall !== undefined && wall > mostRead(radius))
        refusals.push(
          refusal('reading-past-radius', `openings.${one.label}.edgeWallsCm.${side}`, {
            value: wall,
            limit: `at most ${radius.toFixed(1)} cm`,
            message: `The wall of ${wall} cm at the edge at ${bearing}° is thicker than the radius there, ${radius.toFixed(1)} cm.`,
          }),
        )
    }
    return { ...one, widthDeg, complete: one.depthCm !== null && one.edgeWallsCm !== null }
  })
  const complete = openings.filter((one) => one.complete)
  return {
    openings,
    refusals,
    cuts: complete.map((one) => ({
      fromBearingDeg: one.fromBearingDeg,
      toBearingDeg: one.toBearingDeg,
      depthCm: Math.max(0, one.depthCm! - outline.bark(one.fromBearingDeg)),
    })),
    edges: complete.flatMap((one) => [
      {
        bearingDeg: one.fromBearingDeg,
        wallCm: Math.min(one.edgeWallsCm!.from, outline.wood(one.fromBearingDeg)),
      },
      { bearingDeg: one.toBearingDeg, wallCm: Math.min(one.edgeWallsCm!.to, outline.wood(one.toBearingDeg)) },
    ]),
  }
}
