import { probeInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { checkReading } from './check.ts'
import { emptyValues, type Values } from './values.ts'
import { type ProbeKind, probeKinds } from './words.ts'

const id = '2f1c1c0e-6f0c-4d8e-9c55-0d7f6c1a2b3c'
const visitId = '7a0f3d34-58f1-4a86-8a3e-91c1f6c2d4e5'
const form = (kind: ProbeKind, change: (values: Values) => void = () => {}) => {
  const values = structuredClone(emptyValues(kind, 'P1', 'L. Sand'))
  values.heightM = 1.3
  change(values)
  return values
}
const check = (values: Values) => checkReading(values, id, visitId)
const paths = (values: Values) => {
  const outcome = check(values)
  return outcome.ok ? [] : outcome.refusals.map(({ path, code }) => `${path}: ${code}`)
}

const core = (change: (values: Values) => void = () => {}) =>
  form('core', (values) => {
    Object.assign(values, { entryBearingDeg: 270, reason: 'Dull at 1.3 m' })
    Object.assign(values.core, {
      borerLengthCm: 40,
      reachedCm: 31,
      barkCm: 1.7,
      rows: [
        { condition: 'sound', toCm: 12 },
        { condition: 'unread', toCm: 14 },
        { condition: 'softened-fibrous', toCm: 31 },
        { condition: null, toCm: null },
      ],
    })
    change(values)
  })

const trace = (change: (values: Values) => void = () => {}) =>
  form('drill-trace', (values) => {
    Object.assign(values, { entryBearingDeg: 10, reason: 'Cavity beside it' })
    const rows = Array.from({ length: 200 }, (_, i) => `${(i * 0.5).toFixed(1)};${i < 20 ? 4 : 40}`)
    Object.assign(values.trace, {
      raw: ['depth mm;resistance %', ...rows].join('\n'),
      depthUnit: 'mm',
      resistanceUnit: '%',
      stand: 'proposed',
    })
    change(values)
  })

const whole: Record<ProbeKind, () => Values> = {
  core,
  'drill-trace': trace,
  sounding: () =>
    form('sounding', (values) => {
      values.sounding.rounds = [
        { heightM: 0.4, struck: 'part', dullArcs: [{ fromBearingDeg: 350, toBearingDeg: 20 }] },
      ]
    }),
  'fracture-test': () =>
    form('fracture-test', (values) => {
      values.entryBearingDeg = 90
      Object.assign(values.fracture, {
        coreDiameterMm: 5.15,
        leverMm: 12,
        breaks: [{ atCm: 3, angleDeg: 20, loadN: 14 }],
      })
    }),
  laboratory: () =>
    form('laboratory', (values) => {
      Object.assign(values.laboratory, { laboratory: 'Lamp Green bench', result: 'A white rot.' })
    }),
  opening: () =>
    form('opening', (values) => {
      Object.assign(values.opening, {
        fromBearingDeg: 340,
        toBearingDeg: 20,
        fromHeightM: 1,
        toHeightM: 1.6,
      })
    }),
  cut: () =>
    form('cut', (values) => {
      values.cut.walls[2]!.cm = 6
    }),
  outline: () =>
    form('outline', (values) => {
      values.outline.girthCm = 288
    }),
}

describe('a form of a reading', () => {
  it.each(probeKinds)('gives a record of kind %s that the model takes', (kind) => {
    const outcome = check(whole[kind]())
    expect(outcome.ok ? outcome.value.kind : outcome.refusals).toBe(kind)
    expect(probeInput.safeParse(outcome.ok ? outcome.value : null).success).toBe(true)
  })

  it('lets each row of a core begin where the one before ends, and leaves out what was not read', () => {
    const outcome = check(core())
    expect(outcome.ok && outcome.value.kind === 'core' && outcome.value.reading.segments).toEqual([
      { fromCm: 1.7, toCm: 12, condition: 'sound' },
      { fromCm: 14, toCm: 31, condition: 'softened-fibrous' },
    ])
  })

  it('points straight in unless it says that it was aimed off centre', () => {
    const direction = (values: Values) => {
      const outcome = check(values)
      return outcome.ok && outcome.value.kind === 'core' ? outcome.value.directionDeg : null
    }
    expect(direction(core())).toBe(90)
    expect(direction(core((v) => Object.assign(v, { offCentre: true, directionDeg: 70 })))).toBe(70)
    expect(paths(core((v) => Object.assign(v, { offCentre: true })))).toEqual(['directionDeg: required'])
  })

  it('names each field that is missing or beyond its limit', () => {
    expect(paths(core((v) => Object.assign(v, { reason: ' ', heightM: null })))).toEqual([
      'heightM: required',
      'reason: required',
    ])
    expect(paths(core((v) => Object.assign(v.core, { borerLengthCm: 20 })))).toContain(
      'reading.reachedCm: reading-past-borer',
    )
    expect(paths(core((v) => Object.assign(v.core.rows[1]!, { condition: null })))).toEqual([
      'reading.rows.1.condition: required',
    ])
    expect(paths(core((v) => Object.assign(v.core.rows[2]!, { toCm: 13 })))).toEqual([
      'reading.segments.1.toCm: segment-backwards',
    ])
    expect(paths(core((v) => Object.assign(v.core, { innermostRings: '1,2 eight' })))).toEqual([
      'reading.innermostRingsMm: number-unreadable',
    ])
  })

  it('asks for both walls of an opening once one is given', () => {
    const values = whole.opening()
    values.opening.wallFromCm = 6
    expect(paths(values)).toEqual(['reading.edgeWallsCm.to: required'])
  })

  it('wants a visit', () => {
    const outcome = checkReading(core(), id, null)
    expect(outcome.ok ? [] : outcome.refusals.map(({ path }) => path)).toEqual(['visitId'])
  })

  it('takes no borders silently and no unit of depth by itself', () => {
    expect(paths(trace((v) => Object.assign(v.trace, { stand: null })))).toEqual(['reading.stand: required'])
    expect(paths(trace((v) => Object.assign(v.trace, { depthUnit: null })))).toEqual([
      'reading.depthUnit: required',
    ])
  })

  it('keeps the text of a trace as it came', () => {
    const values = trace((v) => {
      v.trace.raw = `\r\n${v.trace.raw}\r\n`
    })
    const outcome = check(values)
    expect(outcome.ok && outcome.value.kind === 'drill-trace' && outcome.value.reading.raw).toBe(
      values.trace.raw,
    )
  })
})
