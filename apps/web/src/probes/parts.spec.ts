import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Arc, holdsSector, sectorArc, sectorCount, withArc, withoutArc } from './arcs.ts'
import { holesAt, nextLabel } from './labels.ts'
import { divide, joinNext, moveBark, moveEnd } from './segments.ts'
import { faultRows } from './trace.ts'

describe('the next label', () => {
  it('is one above the highest of its letter', () => {
    expect(nextLabel('core', [])).toBe('C1')
    expect(nextLabel('core', ['C1', 'c4', 'T9', 'north side', 'C'])).toBe('C5')
    expect(nextLabel('drill-trace', ['C1', 'T1'])).toBe('T2')
  })
})

describe('holes made already', () => {
  it('are those of this visit at this height, each once', () => {
    const hole = { id: 'a', kind: 'core', visitId: 'v', heightM: 1.3 } as const
    const holes = [
      hole,
      { ...hole },
      { ...hole, id: 'b', kind: 'drill-trace', heightM: 1.5 },
      { ...hole, id: 'c', heightM: 1.6 },
      { ...hole, id: 'd', visitId: 'w' },
      { ...hole, id: 'e', kind: 'sounding' },
      { ...hole, id: 'me' },
    ] as const
    expect(holesAt(holes, { id: 'me', visitId: 'v', heightM: 1.3 })).toBe(2)
    expect(holesAt(holes, { id: 'me', visitId: 'v', heightM: null })).toBe(0)
  })
})

describe('dull arcs', () => {
  const sectors = fc.uniqueArray(fc.integer({ min: 0, max: sectorCount - 1 }))
  const arcsOf = (list: readonly number[]) => list.reduce<Arc[]>((arcs, i) => withArc(arcs, sectorArc(i)), [])
  const seen = (arcs: readonly Arc[]) =>
    Array.from({ length: sectorCount }, (_, i) => i).filter((i) => holdsSector(arcs, i))

  it('hold the sectors that were tapped and no other, in whatever order', () =>
    fc.assert(
      fc.property(sectors, (list) => {
        expect(seen(arcsOf(list))).toEqual([...list].sort((a, b) => a - b))
      }),
    ))

  it('lose a sector that is tapped again, and no other', () =>
    fc.assert(
      fc.property(sectors, fc.integer({ min: 0, max: sectorCount - 1 }), (list, gone) => {
        expect(seen(withoutArc(arcsOf(list), sectorArc(gone)))).toEqual(
          list.filter((i) => i !== gone).sort((a, b) => a - b),
        )
      }),
    ))

  it('join across north, and keep bearings that were typed', () => {
    expect(arcsOf([15, 0, 1])).toEqual([{ fromBearingDeg: 326.25, toBearingDeg: 33.75 }])
    const typed = { fromBearingDeg: 100, toBearingDeg: 137 }
    expect(withArc([typed], sectorArc(0))).toContainEqual(typed)
    expect(withoutArc([typed], sectorArc(5))).toEqual([
      { fromBearingDeg: 100, toBearingDeg: 101.25 },
      { fromBearingDeg: 123.75, toBearingDeg: 137 },
    ])
  })
})

describe('faults of a trace', () => {
  it('name the row, what stands there and what to do', () => {
    const [first, second] = faultRows('depth;res\n1;2\r\n2;over\n3;4', [
      { code: 'trace-text', path: 'row 3', message: 'No number.' },
      { code: 'trace-too-short', path: 'raw', message: 'Too short.' },
    ])
    expect(first).toMatchObject({ row: 3, stands: '2;over', what: 'No number.' })
    expect(first!.todo).not.toBe('')
    expect(second).toMatchObject({ row: null, stands: '' })
  })
})

describe('borders moved by figures', () => {
  const segments = [
    { fromCm: 1, toCm: 6, condition: 'sound' },
    { fromCm: 6, toCm: 10, condition: 'void' },
  ] as const

  it('take the first segment along when the bark ends elsewhere', () => {
    expect(moveBark({ barkCm: 1, segments }, 2).segments[0]).toMatchObject({ fromCm: 2, toCm: 6 })
    expect(moveBark({ barkCm: 0.5, segments }, 0.7).segments[0]).toMatchObject({ fromCm: 1 })
  })
  it('end one segment where the next begins', () => {
    expect(moveEnd(segments, 0, 7.25, 12).map(({ fromCm, toCm }) => [fromCm, toCm])).toEqual([
      [1, 7.25],
      [7.25, 10],
    ])
    expect(moveEnd(segments, 1, 40, 12).at(-1)!.toCm).toBe(12)
  })
  it('divide and join without losing depth', () => {
    expect(joinNext(divide(segments, 0), 0)).toEqual(segments)
    expect(joinNext(segments, 0)).toEqual([{ fromCm: 1, toCm: 10, condition: 'sound' }])
  })
})
