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
    expect(Math.abs((proposeSegments(trace, { barkHintCm: 1.3 }).barkCm ?? 0) - 1.5)).toBeLessThan(0.2)
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

it('is not led astray by lone spikes', () => {
  const trace = syntheticTrace({ seed: 7, barkCm: 1, segments: [sound(1, 12), empty(12, 20)] })
  const resistances = trace.resistances.map((value, i) => (i % 97 === 0 ? 500 : value))
  expect(conditions({ ...trace, resistances })).toEqual(['sound', 'void'])
})

it('reads a trace of twenty coarse rows without throwing', () => {
  const depthsCm = Float64Array.from({ length: 20 }, (_, i) => i)
  const resistances = Float64Array.from({ length: 20 }, (_, i) => (i < 10 ? 40 + (i % 2) : i % 2))
  expect(conditions({ depthsCm, resistances })).toEqual(['sound', 'void'])
})
