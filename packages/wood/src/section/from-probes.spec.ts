import type { Probe } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { sectionFrom, sectionsOf } from './from-probes.ts'

const tree = {
  id: '3b241101-e2bb-4255-8caf-4136c566a962',
  stems: [{ diameterCm: 60, measuredAtM: 1.3 }],
  crownRadiiM: null,
}
const common = {
  visitId: tree.id,
  treeId: tree.id,
  on: '2026-11-20',
  personName: 'L. Sand',
  borders: [],
  note: '',
  reason: 'Dull sound',
  instrument: 'A borer',
  instrumentCondition: '',
  operator: '',
  disinfected: true,
}
let next = 0
const core = (label: string, bearing: number, heightM: number, segments: object[], more: object = {}) =>
  ({
    ...common,
    id: `core-${next++}`,
    kind: 'core',
    label,
    heightM,
    entryBearingDeg: bearing,
    directionDeg: (bearing + 180) % 360,
    tiltDeg: 0,
    reading: { borerLengthCm: 40, reachedCm: 40, barkCm: 1, segments },
    ...more,
  }) as unknown as Probe
const wall = (to: number) => [
  { fromCm: 1, toCm: to, condition: 'sound' },
  { fromCm: to, toCm: 40, condition: 'void' },
]
const outline = (heightM: number, more: object = {}) =>
  ({
    ...common,
    id: `outline-${next++}`,
    kind: 'outline',
    label: 'G1',
    heightM,
    reading: { by: 'girth', girthCm: 300, barkCm: null },
    ...more,
  }) as unknown as Probe
const codes = (probes: Probe[], of: object = tree) => {
  const { outcome } = sectionFrom(probes, of as typeof tree)
  return outcome.ok ? [] : outcome.refusals.map((one) => `${one.code} ${one.path}`)
}

describe('sections from probes', () => {
  it('gathers readings of one height and keeps others apart', () => {
    const found = sectionsOf(
      [core('C1', 0, 1.3, wall(10)), core('C2', 90, 1.45, wall(10)), core('C3', 180, 0.4, wall(10))],
      tree,
    )
    expect(found.map((one) => one.probes.map((probe) => probe.label))).toEqual([['C3'], ['C1', 'C2']])
  })

  it('refuses to mix heights', () => {
    expect(codes([core('C1', 0, 1.3, wall(10)), core('C2', 90, 1.6, wall(10))])).toEqual([
      'heights-mixed heightM',
    ])
    expect(codes([core('C1', 0, 1.3, wall(10)), core('C2', 90, 1.5, wall(10))])).toEqual([])
  })

  it('takes the outline of the height, the latest of several, and says when nothing tells how thick the stem is', () => {
    const one = core('C1', 0, 1.3, wall(10))
    const basis = (probes: Probe[]) => {
      const { outcome } = sectionFrom(probes, tree)
      return outcome.ok && [outcome.value.outline.basis, Math.round(outcome.value.outline.outerCm[0]!)]
    }
    expect(basis([one])).toEqual(['stem-diameter', 30])
    expect(basis([one, outline(1.3)])).toEqual(['girth', 48])
    const newer = outline(1.3, { on: '2026-11-25', reading: { by: 'girth', girthCm: 200, barkCm: null } })
    expect(basis([one, newer, outline(1.3)])).toEqual(['girth', 32])
    expect(codes([one, outline(1.3), outline(1.3)])).toEqual(['outline-differs outline'])
    expect(codes([one], { ...tree, stems: [] })).toEqual(['outline-missing outline'])
    expect(codes([one], { ...tree, stems: [...tree.stems, ...tree.stems] })).toEqual([
      'outline-missing outline',
    ])
  })

  it('refuses readings longer than the stem, and instruments that point past it', () => {
    expect(codes([core('C1', 0, 1.3, [{ fromCm: 1, toCm: 70, condition: 'sound' }])])).toEqual([
      'reading-past-stem readings.C1.reachedCm',
    ])
    expect(codes([core('C1', 0, 1.3, wall(10), { directionDeg: 10 })])).toEqual([
      'reading-misses-stem readings.C1.directionDeg',
    ])
    const cut = {
      ...common,
      id: 'cut',
      kind: 'cut',
      label: 'K1',
      heightM: 1.3,
      reading: { walls: [{ bearingDeg: 0, wallCm: 40 }] },
    } as unknown as Probe
    expect(codes([cut])).toEqual(['reading-past-radius readings.K1.wallCm'])
  })

  it('leaves a trace out while nobody has accepted its borders, and takes the latest accepted', () => {
    const trace = { ...core('T1', 0, 1.3, []), kind: 'drill-trace', reading: {} } as unknown as Probe
    expect(sectionFrom([trace], tree).left).toEqual([
      { probeId: trace.id, label: 'T1', why: 'borders-not-accepted' },
    ])
    const borders = [9, 14].map((to) => ({ barkCm: 1, segments: wall(to) }))
    const { left, outcome } = sectionFrom([{ ...trace, borders } as unknown as Probe], tree)
    expect(left).toEqual([])
    expect(outcome.ok && outcome.value.readings[0]!.wallCm).toBeCloseTo(13, 9)
  })

  it('counts stained wood as firm, what is soft under the bark as gone, and what no segment covers as unknown', () => {
    const read = (segments: object[]) => {
      const { outcome } = sectionFrom([core('C1', 0, 1.3, segments)], tree)
      if (!outcome.ok) throw new Error('refused')
      return outcome.value.readings[0]!
    }
    const stained = read([
      { fromCm: 1, toCm: 6, condition: 'sound' },
      { fromCm: 6, toCm: 9, condition: 'stained' },
      { fromCm: 9, toCm: 20, condition: 'softened-fibrous' },
    ])
    expect([stained.wallCm, stained.censored].join()).toBe('8,false')
    const outer = read([
      { fromCm: 1, toCm: 3, condition: 'softened-brittle' },
      { fromCm: 3, toCm: 11, condition: 'sound' },
      { fromCm: 11, toCm: 20, condition: 'void' },
    ])
    expect(outer.wallCm).toBeCloseTo(8, 9)
    expect(outer.outerLossCm).toBeCloseTo(2, 9)
    const gap = read([
      { fromCm: 1, toCm: 6, condition: 'sound' },
      { fromCm: 12, toCm: 20, condition: 'void' },
    ])
    expect([gap.censored, Math.round(gap.wallCm)]).toEqual([true, 5])
    expect(gap.segments.some((one) => one.condition === 'unread')).toBe(true)
  })
})
