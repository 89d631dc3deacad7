import { woodSegments } from '@underbough/model'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { proposeSegments } from './propose.ts'
import { syntheticTrace } from './synthetic.ts'
import type { Trace } from './types.ts'

const sound = (fromCm: number, toCm: number) => ({ fromCm, toCm, condition: 'sound' as const })
const empty = (fromCm: number, toCm: number) => ({ fromCm, toCm, condition: 'void' as const })
const conditions = (trace: Trace, hints = {}) =>
  proposeSegments(trace, hints).segments.map(({ condition }) => condition)

/** The rows that `keep` lets through. */
function only({ depthsCm, resistances }: Trace, keep: (depthCm: number) => boolean): Trace {
  return {
    depthsCm: depthsCm.filter(keep),
    resistances: resistances.filter((_, i) => keep(depthsCm[i])),
  }
}

describe('the bark', () => {
  const trace = syntheticTrace({ seed: 4, barkCm: 1.5, segments: [sound(1.5, 20)] })

  it('ends where the low beginning ends, or where it was measured to end', () => {
    expect(Math.abs((proposeSegments(trace).barkCm ?? 0) - 1.5)).toBeLessThan(0.2)
    expect(Math.abs((proposeSegments(trace, { barkHintCm: 1.2 }).barkCm ?? 0) - 1.5)).toBeLessThan(0.2)
    expect(proposeSegments(trace, { barkHintCm: 4 }).barkCm).toBe(4)
  })

  it('is not told where the trace begins firm or stays low for longer than bark is thick', () => {
    const firm = syntheticTrace({ seed: 4, barkCm: 0, segments: [sound(0, 20)] })
    const low = syntheticTrace({ seed: 4, barkCm: 8, segments: [sound(8, 20)] })
    expect(proposeSegments(firm).barkCm).toBeNull()
    expect(proposeSegments(low).barkCm).toBeNull()
    expect(conditions(low)[0]).not.toBe('sound')
  })

  it('is nowhere part of a segment', () => {
    const { barkCm, segments } = proposeSegments(trace)
    expect(segments[0].fromCm).toBe(barkCm)
  })
})

describe('what a trace does not show', () => {
  it('is left out: depths without rows', () => {
    const trace = syntheticTrace({ seed: 5, barkCm: 1, segments: [sound(1, 30)] })
    const { segments, notes } = proposeSegments(only(trace, (depthCm) => depthCm < 12 || depthCm > 15))
    expect(segments).toHaveLength(2)
    expect(segments[0].toCm).toBeLessThanOrEqual(12)
    expect(segments[1].fromCm).toBeGreaterThanOrEqual(15)
    expect(notes.some((note) => note.startsWith('Rows are missing'))).toBe(true)
  })

  it('is not taken for a cavity: the air behind the stem', () => {
    const trace = syntheticTrace({ seed: 6, barkCm: 1, segments: [sound(1, 24), empty(24, 30)] })
    expect(conditions(trace)).toEqual(['sound', 'void'])
    expect(conditions(trace, { radiusCm: 12.5 })).toEqual(['sound'])
    expect(conditions(trace, { radiusCm: 30 })).toEqual(['sound', 'void'])
  })

  it('gives nothing where the resistance is the same from end to end', () => {
    const depthsCm = Float64Array.from({ length: 400 }, (_, i) => i * 0.05)
    for (const level of [0, 12]) {
      const { segments, barkCm } = proposeSegments({
        depthsCm,
        resistances: new Float64Array(400).fill(level),
      })
      expect([segments, barkCm]).toEqual([[], null])
    }
  })
})

it('counts from nothing, or from air where the instrument reads air below nothing', () => {
  const input = { seed: 8, barkCm: 1, soundLevel: 40, creep: 0 }
  const hollow = syntheticTrace({ ...input, segments: [sound(1, 12), empty(12, 20)] })
  expect(proposeSegments(hollow).levels.floor).toBe(0)
  const below = { ...hollow, resistances: hollow.resistances.map((value) => value - 8) }
  // The invented air is a fiftieth of 40, and 8 were taken off; the creep found where there is none takes a little off again.
  expect(Math.abs(proposeSegments(below).levels.floor + 7.2)).toBeLessThan(0.8)
  expect(conditions(below)).toEqual(['sound', 'void'])
})

it.each([
  [0.01, 97],
  [0.05, 17],
])('is not led astray by lone spikes in rows %d cm apart', (stepCm, every) => {
  const trace = syntheticTrace({ seed: 7, stepCm, barkCm: 1, segments: [sound(1, 12), empty(12, 20)] })
  const resistances = trace.resistances.map((value, i) => (i % every === 0 ? 500 : value))
  expect(conditions({ ...trace, resistances })).toEqual(['sound', 'void'])
})

it('reads a trace of twenty coarse rows without throwing', () => {
  const depthsCm = Float64Array.from({ length: 20 }, (_, i) => i)
  const resistances = Float64Array.from({ length: 20 }, (_, i) => (i < 10 ? 40 + (i % 2) : i % 2))
  expect(conditions({ depthsCm, resistances })).toEqual(['sound', 'void'])
})

it('fits the record and stays within the trace, whatever the drill felt', () => {
  const rows = fc.array(
    fc.record({
      stepCm: fc.constantFrom(0.01, 0.1, 0.1, 0.1, 1, 3),
      resistance: fc.constantFrom(-5, 0, 0, 0, 1, 20, 40, 60, 1e8),
      alike: fc.constantFrom(1, 1, 5, 20),
    }),
    { minLength: 20, maxLength: 300 },
  )
  const hint = (max: number) => fc.option(fc.double({ min: 0.1, max, noNaN: true }), { nil: undefined })
  const hints = fc.record({ barkHintCm: hint(30), radiusCm: hint(200) })
  fc.assert(
    fc.property(rows, hints, (parts, told) => {
      let atCm = 0
      const points = parts
        .flatMap(({ stepCm, resistance, alike }) =>
          Array.from({ length: alike }, () => {
            atCm += stepCm
            return { depthCm: atCm, resistance }
          }),
        )
        .filter(({ depthCm }) => depthCm <= 600)
      if (points.length < 20) return
      const { barkCm, segments, levels } = proposeSegments(
        {
          depthsCm: Float64Array.from(points, ({ depthCm }) => depthCm),
          resistances: Float64Array.from(points, ({ resistance }) => resistance),
        },
        told,
      )
      expect(woodSegments.safeParse(segments).error?.issues ?? []).toEqual([])
      expect(barkCm ?? 0).toBeLessThanOrEqual(30)
      for (const { fromCm, toCm } of segments) {
        expect(fromCm).toBeGreaterThanOrEqual((barkCm ?? 0) - 1e-9)
        expect(toCm).toBeLessThanOrEqual(points[points.length - 1].depthCm + 1e-6)
      }
      expect([...levels.segments, levels.sound, levels.floor].every(Number.isFinite)).toBe(true)
    }),
    { numRuns: 300 },
  )
}, 60_000)

it('proposes no more segments than a record takes, and says so', () => {
  const depthsCm = Float64Array.from({ length: 2000 }, (_, i) => i * 0.1)
  const resistances = depthsCm.map((depthCm) => (depthCm % 3 < 1.5 ? 40 + (depthCm % 0.3) : 0))
  const { segments, notes } = proposeSegments({ depthsCm, resistances })
  expect(segments).toHaveLength(60)
  expect(notes.some((note) => note.startsWith('Only the first 60'))).toBe(true)
})
