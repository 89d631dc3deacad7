import { describe, expect, it } from 'vitest'
import { drawsFrom } from '../random.ts'
import { drawWalls, type WallDatum } from './field.ts'
import { sectionOf } from './section.ts'
import type { SectionInput } from './types.ts'

const bearings = Array.from({ length: 60 }, (_, i) => i * 6)
const even = (walls: number[], censored: boolean): WallDatum[] =>
  walls.map((wallCm, i) => ({ bearingDeg: (360 / walls.length) * i, wallCm, censored }))
const drawn = (data: WallDatum[], radius: number) =>
  drawWalls(
    data,
    bearings,
    bearings.map(() => radius),
    radius,
    400,
    drawsFrom(2),
  )
const spread = (values: number[]) => {
  const mean = values.reduce((a, b) => a + b) / values.length
  return { mean, sd: Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length) }
}

describe('drawn walls', () => {
  it('stay between nothing and the radius', () => {
    for (const walls of [
      [0, 0, 1, 0, 2, 0],
      [30, 29, 28, 30, 30, 30],
    ])
      for (const wall of drawn(even(walls, false), 30))
        for (const cm of wall) expect(cm >= 0 && cm <= 30).toBe(true)
  })

  it('lie near readings that ended, and well above readings that stopped in firm wood', () => {
    const ended = spread(drawn(even([12, 12, 12, 12, 12, 12], false), 40).map((wall) => wall[0]!))
    const open = spread(drawn(even([12, 12, 12, 12, 12, 12], true), 40).map((wall) => wall[0]!))
    expect(Math.abs(ended.mean - 12)).toBeLessThan(1)
    expect(open.mean).toBeGreaterThan(14)
    // What lies behind is drawn anew each time, not once.
    expect(open.sd).toBeGreaterThan(1.5 * ended.sd)
  })

  it('know least where no reading is near', () => {
    const walls = drawn(even([10, 14, 9], false), 40)
    const at = spread(walls.map((wall) => wall[0]!)).sd
    const between = spread(walls.map((wall) => wall[10]!)).sd
    expect(between).toBeGreaterThan(1.3 * at)
  })
})

describe('what else is known of the wall', () => {
  const drill = (
    label: string,
    bearing: number,
    to: number,
    more: { fromCm: number; toCm: number }[] = [],
  ) => ({
    probeId: label,
    label,
    entryBearingDeg: bearing,
    directionDeg: (bearing + 180) % 360,
    tiltDeg: 0,
    barkCm: 0,
    reachedCm: more.at(-1)?.toCm ?? to + 5,
    segments: [
      { fromCm: 0, toCm: to, condition: 'sound' as const },
      { fromCm: to, toCm: more[0]?.fromCm ?? to + 5, condition: 'void' as const },
      ...more.map((one) => ({ ...one, condition: 'sound' as const })),
    ],
  })
  const input: SectionInput = {
    heightM: 1,
    outline: { by: 'girth', girthCm: 2 * Math.PI * 30, barkCm: 0 },
    readings: [0, 60, 120, 240, 300].map((b) => drill(`T${b}`, b, 20)),
    cutWalls: [],
    openings: [],
    crownRadiiM: null,
    seed: 4,
  }
  const wallAt = (of: SectionInput, bearing: number) => {
    const outcome = sectionOf(of)
    if (!outcome.ok) throw new Error('refused')
    return outcome.value.wallCm!.cautious[bearing / outcome.value.stepDeg]!
  }

  it('a drill that meets firm wood again on the far side tells the wall there too', () => {
    const through = {
      ...input,
      readings: [drill('T0', 0, 20, [{ fromCm: 56, toCm: 60 }]), ...input.readings.slice(1)],
    }
    expect(wallAt(through, 180)).toBeLessThan(6)
    expect(wallAt(input, 180)).toBeGreaterThan(8)
  })

  it('the walls at the edges of an opening count', () => {
    const opening = { probeId: 'o', label: 'O1', fromBearingDeg: 170, toBearingDeg: 190, depthCm: 30 }
    const thin = wallAt({ ...input, openings: [{ ...opening, edgeWallsCm: { from: 3, to: 3 } }] }, 165)
    const thick = wallAt({ ...input, openings: [{ ...opening, edgeWallsCm: { from: 20, to: 20 } }] }, 165)
    expect(thin).toBeLessThan(6)
    expect(thick).toBeGreaterThan(14)
  })
})
