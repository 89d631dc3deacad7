import type { Probe, ProbeOf, Tree } from '@underbough/model'
import { type SectionAt, sectionsOf } from '@underbough/wood'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  entryWords,
  fillsOf,
  greyWords,
  leftWords,
  offMiddleDeg,
  outlineWords,
  photoOf,
  readingRows,
  roseWords,
  sectionAside,
  takenWords,
  toMiddleCm,
} from './facts.ts'

const tree = {
  id: 'b0a4f1c2-1111-4222-8333-944455556666',
  stems: [{ diameterCm: 100, measuredAtM: 1.3 }],
  crownRadiiM: null,
} as unknown as Tree
const common = {
  visitId: tree.id,
  treeId: tree.id,
  heightM: 2,
  instrument: 'Borer',
  instrumentCondition: 'sharp',
  operator: 'L. Sand',
  disinfected: true,
  note: '',
  reason: 'how thick',
  tiltDeg: 0,
  on: '2026-05-03',
  personName: 'L. Sand',
  borders: [],
}
const core = (i: number, bearing: number, reachedCm = 20, firmCm = 12): ProbeOf<'core'> =>
  ({
    ...common,
    id: `core-${i}`,
    kind: 'core',
    label: `C${i}`,
    entryBearingDeg: bearing,
    directionDeg: (bearing + 180) % 360,
    reading: {
      borerLengthCm: 40,
      reachedCm,
      barkCm: 2,
      segments:
        reachedCm > firmCm
          ? [
              { fromCm: 2, toCm: firmCm, condition: 'sound' },
              { fromCm: firmCm, toCm: reachedCm, condition: 'softened-brittle' },
            ]
          : [{ fromCm: 2, toCm: reachedCm, condition: 'sound' }],
      ringsCounted: null,
      innermostRingsMm: [],
      innermost10mmRings: null,
      outerTenRingsMm: null,
      pith: null,
      manner: null,
      smell: '',
    },
  }) as ProbeOf<'core'>
const trace = {
  ...core(9, 45),
  id: 'trace-1',
  label: 'T1',
  kind: 'drill-trace',
  reading: { raw: '', proposed: { method: 'trace-1', barkCm: 1, segments: [] } },
} as unknown as Probe
const opening = {
  ...common,
  id: 'o',
  kind: 'opening',
  label: 'O1',
  reading: {
    fromBearingDeg: 100,
    toBearingDeg: 120,
    depthCm: 30,
    edgeWallsCm: { from: 9, to: 9 },
    fromHeightM: 1.5,
    toHeightM: 2.5,
  },
} as Probe
const at = (probes: Probe[]): SectionAt => sectionsOf(probes, tree)[0]!
const section = (probes: Probe[]) => {
  const { outcome } = at(probes)
  if (!outcome.ok) throw new Error(outcome.refusals[0]!.message)
  return outcome.value
}
const around = (n: number) => Array.from({ length: n }, (_, i) => core(i, (i * 360) / n))

describe('what a section stands on', () => {
  it('counts what is counted, and says whether an opening was measured at both edges', () => {
    expect(sectionAside(at([core(1, 0), core(2, 90), opening]))).toBe('2 cores, both edges')
    const half = { ...opening, reading: { ...opening.reading, depthCm: null } } as Probe
    expect(sectionAside(at([core(1, 0), half]))).toBe('1 core, opening not wholly measured')
  })
  it('leaves out a trace whose borders nobody accepted, by name', () => {
    const both = at([core(1, 0), trace])
    expect(sectionAside(both)).toBe('1 core')
    expect(leftWords(both.left)).toContain('T1')
    expect(leftWords([])).toBeNull()
  })
  it('says when the record’s diameter stands in for an outline', () => {
    const probes = around(6)
    expect(outlineWords(section(probes), probes)).toMatch(/stands in/)
  })
  it('greys figures only where the wall is thin', () => {
    expect(greyWords(section(around(6)))).toMatch(/of the radius/)
    expect(greyWords(section(Array.from({ length: 6 }, (_, i) => core(i, i * 60, 40, 30))))).toBeNull()
  })
  it('names the ways of bending that leave least and most, opposite ones as one', () => {
    const thinEast = Array.from({ length: 6 }, (_, i) =>
      i === 1 || i === 2 ? core(i, i * 60, 20, 6) : core(i, i * 60, 40, 30),
    )
    expect(roseWords(section(thinEast))).toMatch(/least along \d+° and \d+°, most along \d+° and \d+°/)
    expect(roseWords(section(around(4)))).toBeNull()
  })
  it('holds a pattern for what nobody read in every key, and sound wood only once a wall is drawn', () => {
    expect(fillsOf(section([core(1, 0, 1.9, 1.9)]))).toContain('unread')
    expect(fillsOf(section(around(6)))).toContain('sound')
  })
})

describe('one reading', () => {
  it('gives wall, share of the radius and what stays unread', () => {
    // By hand: radius 50 with 2 cm of bark leaves 48 of wood; 10 firm is 0.21; read to 20 cm is 18 of 48.
    const [row] = readingRows(section([core(1, 90)]).readings)
    expect(row).toMatchObject({
      bearing: '90°',
      wall: '10.0 cm',
      tOverR: '0.21',
      read: '38 %',
      unread: '63 %',
    })
  })
  it('is “over” where it stopped in firm wood', () => {
    const [row] = readingRows(section([core(1, 90, 20, 20)]).readings)
    expect(row!.wall).toMatch(/^over /)
  })
  it('reads and leaves unread the whole way between them', () => {
    fc.assert(
      fc.property(fc.double({ min: 4, max: 45, noNaN: true }), (reached) => {
        const [row] = readingRows(section([core(1, 0, reached, 3)]).readings)
        const sum = Number.parseInt(row!.read, 10) + Number.parseInt(row!.unread, 10)
        // Two roundings.
        expect(Math.abs(sum - 100)).toBeLessThanOrEqual(1)
      }),
    )
  })
})

describe('an instrument’s way in', () => {
  it('is straight in at nothing off the middle, to either side otherwise', () => {
    expect(offMiddleDeg({ entryBearingDeg: 350, directionDeg: 170 })).toBe(0)
    expect(offMiddleDeg({ entryBearingDeg: 350, directionDeg: 190 })).toBe(20)
    expect(offMiddleDeg({ entryBearingDeg: 10, directionDeg: 170 })).toBe(-20)
  })
  it('is longer where it points downwards and shorter where it misses the middle (plane trigonometry)', () => {
    const sections = sectionsOf([core(1, 0)], tree)
    expect(toMiddleCm(core(1, 0), sections, tree)).toBeCloseTo(50, 6)
    expect(toMiddleCm({ ...core(1, 0), tiltDeg: 60 }, sections, tree)).toBeCloseTo(100, 6)
    expect(toMiddleCm({ ...core(1, 0), directionDeg: 240 }, sections, tree)).toBeCloseTo(25, 6)
    expect(toMiddleCm(core(1, 0), [], { stems: [] })).toBeNull()
  })
  it('says when it was aimed past the middle', () => {
    expect(entryWords(core(1, 260))).toBe('260° at 2 m')
    expect(entryWords({ ...core(1, 0), directionDeg: 190 })).toMatch(/10° past/)
  })
  it('says how it was taken, and never that nothing was said of the tool when it was', () => {
    expect(takenWords(core(1, 0)).join(' ')).toMatch(/Borer; sharp\..*disinfected before\..*Why: how thick\./)
    expect(takenWords({ ...core(1, 0), disinfected: null }).join(' ')).toMatch(/not written down/)
    expect(takenWords({ ...opening, reason: '' } as Probe).join(' ')).not.toMatch(/disinfected/)
  })
})

it('takes the latest photo of that reading and of no other', () => {
  const photo = (ownerId: string, takenAt: string) => ({ ownerKind: 'probe', ownerId, takenAt }) as never
  const photos = [photo('core-1', '2026-01-01T10:00:00Z'), photo('core-1', '2026-02-01T10:00:00Z')]
  expect(photoOf('core-1', photos)?.takenAt).toBe('2026-02-01T10:00:00Z')
  expect(photoOf('core-2', photos)).toBeNull()
})
