import { type WoodSegment, woodConditions, woodSegments } from '@underbough/model'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { acceptBorders, bordersOf, moveBorder } from './borders.ts'

/** Segments of at least 0.1 cm, some with gaps between them. */
const segmentLists = fc
  .array(
    fc.record({
      gapCm: fc.constantFrom(0, 0, 0, 1.5),
      thickCm: fc.double({ min: 0.1, max: 20, noNaN: true }),
      condition: fc.constantFrom(...woodConditions),
    }),
    { minLength: 1, maxLength: 8 },
  )
  .map((parts) => {
    let atCm = 1
    return parts.map(({ gapCm, thickCm, condition }): WoodSegment => {
      const fromCm = atCm + gapCm
      atCm = fromCm + thickCm
      return { fromCm, toCm: atCm, condition }
    })
  })

describe('a moved border', () => {
  it('leaves the segments in order, apart, at least 0.1 cm thick and within the trace', () => {
    fc.assert(
      fc.property(segmentLists, fc.nat(16), fc.double({ min: -50, max: 300 }), (segments, index, toCm) => {
        const endCm = segments[segments.length - 1].toCm + 3
        const moved = moveBorder(segments, index, toCm, endCm)
        expect(woodSegments.safeParse(moved).success).toBe(true)
        for (const { fromCm, toCm: endsCm } of moved)
          expect(endsCm - fromCm).toBeGreaterThanOrEqual(0.1 - 1e-9)
        expect(moved[moved.length - 1].toCm).toBeLessThanOrEqual(endCm)
        const was = bordersOf(segments)
        const is = bordersOf(moved)
        expect(is).toHaveLength(was.length)
        expect(is.filter(({ atCm }, i) => atCm !== was[i].atCm && i !== index)).toEqual([])
        expect(moved.map(({ condition }) => condition)).toEqual(segments.map(({ condition }) => condition))
      }),
    )
  })

  it('goes where it is put where nothing is in its way', () => {
    const segments: WoodSegment[] = [
      { fromCm: 1, toCm: 8, condition: 'sound' },
      { fromCm: 8, toCm: 12, condition: 'void' },
    ]
    expect(moveBorder(segments, 1, 9.25)).toEqual([
      { fromCm: 1, toCm: 9.25, condition: 'sound' },
      { fromCm: 9.25, toCm: 12, condition: 'void' },
    ])
    expect(moveBorder(segments, 1, 40)[1]).toEqual({ fromCm: 11.9, toCm: 12, condition: 'void' })
    expect(moveBorder(segments, 2, 40, 30)[1].toCm).toBe(30)
    expect(segments[0].toCm).toBe(8)
  })
})

describe('accepted borders', () => {
  const proposed = {
    barkCm: 1,
    segments: [
      { fromCm: 1, toCm: 8, condition: 'sound' as const },
      { fromCm: 8, toCm: 12, condition: 'void' as const },
    ],
  }
  const codes = (accepted: Parameters<typeof acceptBorders>[1]) => {
    const outcome = acceptBorders(proposed, accepted, 12)
    return outcome.ok ? outcome.value.moved : outcome.refusals.map(({ code, path }) => [code, path])
  }

  it('say whether they were moved or named otherwise', () => {
    expect(codes(proposed)).toBe(false)
    expect(codes({ ...proposed, segments: moveBorder(proposed.segments, 1, 8.5) })).toBe(true)
    expect(
      codes({
        ...proposed,
        segments: [proposed.segments[0], { ...proposed.segments[1], condition: 'softened-fibrous' }],
      }),
    ).toBe(true)
  })

  it('are refused without bark, within it, past the end, backwards or over one another', () => {
    const [first, second] = proposed.segments
    expect(codes({ ...proposed, barkCm: null })).toEqual([['required', 'barkCm']])
    expect(codes({ ...proposed, barkCm: 2 })).toEqual([['out-of-range', 'segments.0.fromCm']])
    expect(codes({ barkCm: 1, segments: [first, { ...second, toCm: 13 }] })).toEqual([
      ['out-of-range', 'segments.1.toCm'],
    ])
    expect(codes({ barkCm: 1, segments: [{ ...first, toCm: 0.5 }] })).toEqual([
      ['segment-backwards', 'segments.0.toCm'],
    ])
    expect(codes({ barkCm: 1, segments: [first, { ...second, fromCm: 7 }] })).toEqual([
      ['segments-overlap', 'segments.1.fromCm'],
    ])
  })
})
