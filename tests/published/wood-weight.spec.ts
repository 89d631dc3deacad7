import { M_PER_FOOT } from '@underbough/model'
import { everydayComparison, KG_M3_PER_LB_FT3, KG_PER_LB, riggingLoad, weighPart } from '@underbough/wood'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'

/**
 * Green log weights, lb for 1 ft of length at 10, 12, 14, 16, 18 and 20 in diameter. Source: US National Park Service, "Safety for Tree
 * Workers", as reprinted in a tool manual (manuals.online); species, weight density lb/ft³, printed figures.
 */
const logs: [string, number, number[]][] = [
  ['Apple', 55, [30, 43, 59, 77, 97, 120]],
  ['Ash', 48, [26, 38, 51, 67, 85, 105]],
  ['Beech', 54, [29, 42, 58, 75, 95, 118]],
  ['Birch', 57, [31, 45, 61, 80, 101, 124]],
  ['Black cherry', 45, [25, 35, 48, 63, 79, 98]],
  ['Chestnut', 55, [30, 43, 59, 77, 97, 120]],
  ['Cottonwood', 49, [27, 38, 52, 68, 87, 107]],
  ['American elm', 54, [29, 42, 58, 75, 95, 118]],
  ['Hackberry', 50, [27, 39, 53, 70, 88, 109]],
  ['Hickory', 64, [35, 50, 68, 89, 113, 140]],
  ['Honeylocust', 61, [33, 48, 65, 85, 108, 133]],
  ['Magnolia', 59, [32, 46, 63, 82, 104, 129]],
  ['Red maple', 50, [27, 39, 53, 70, 88, 109]],
  ['Black oak', 62, [34, 49, 66, 87, 110, 135]],
  ['Live oak', 76, [41, 60, 81, 106, 134, 166]],
  ['Red oak', 63, [34, 49, 67, 88, 111, 137]],
  ['Yellow-poplar', 38, [21, 30, 41, 53, 67, 83]],
  ['Sassafras', 44, [24, 35, 47, 61, 78, 96]],
  ['Black walnut', 58, [32, 46, 62, 81, 102, 126]],
  ['Red spruce', 34, [19, 27, 36, 47, 60, 74]],
  ['Tamarack', 47, [26, 37, 50, 66, 83, 102]],
]

const log = (diameterIn: number, lengthFt: number, lbFt3: number, more: object = {}) => {
  const density = lbFt3 * KG_M3_PER_LB_FT3
  const outcome = weighPart({
    lengthM: lengthFt * M_PER_FOOT,
    buttDiameterCm: diameterIn * 2.54,
    tipDiameterCm: diameterIn * 2.54,
    foliageShare: 0,
    densityKgM3: { value: density, least: density, most: density },
    heightM: null,
    ...more,
  })
  if (!outcome.ok) throw new Error(outcome.refusals[0]!.message)
  return outcome.value
}

describe('weight of a part', () => {
  // NIST Special Publication 811, appendix B: 1 lb = 0.45359237 kg exactly; 1 lb/ft³ = 16.01846 kg/m³.
  it('turns pounds as printed', () => {
    expect(KG_PER_LB).toBe(0.45359237)
    expect(KG_M3_PER_LB_FT3).toBeCloseTo(16.01846, 5)
  })

  it.each(logs)('%s logs weigh what is printed, within 1 lb', (_, lbFt3, printed) => {
    ;[10, 12, 14, 16, 18, 20].forEach((diameter, i) => {
      expect(Math.abs(log(diameter, 1, lbFt3).massLb.value - printed[i]!)).toBeLessThan(1)
    })
  })

  // Common practice, no source: a limb over a garden structure commonly weighs 500 to 800 lb (230 to 360 kg). Red oak, 63 lb/ft³.
  it('a red-oak limb of 12 in mean diameter and 14 ft weighs 500 to 800 lb', () => {
    for (const foliageShare of [0, 0.05, 0.15]) {
      const { massLb, massKg } = log(12, 14, 63, { foliageShare })
      expect(massLb.value).toBeGreaterThan(500)
      expect(massLb.value).toBeLessThan(825)
      expect(massKg.value / massLb.value).toBeCloseTo(KG_PER_LB, 12)
    }
  })

  // General forest mensuration: Newton's formula is exact for every frustum; a tip of nothing makes a cone, a third of its cylinder.
  it('agrees with Newton’s formula on every frustum, and with the cone', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 30, noNaN: true }),
        fc.double({ min: 5, max: 150, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (lengthM, butt, share) => {
          const input = {
            lengthM,
            buttDiameterCm: butt,
            tipDiameterCm: butt * share,
            foliageShare: 0,
            densityKgM3: { value: 900, least: 800, most: 1000 },
            heightM: 10,
          }
          const plain = weighPart(input)
          const newton = weighPart({ ...input, middleDiameterCm: (butt * (1 + share)) / 2 })
          if (!plain.ok || !newton.ok) throw new Error('refused')
          expect(plain.value.volumeM3 / newton.value.volumeM3).toBeCloseTo(1, 9)
          const cylinder = (Math.PI * butt ** 2 * lengthM) / 40_000
          expect(plain.value.volumeM3).toBeLessThanOrEqual(cylinder * (1 + 1e-9))
          expect(plain.value.volumeM3).toBeGreaterThanOrEqual((cylinder / 3) * (1 - 1e-9))
          // Free fall: energy is m g h, and half the mass times the square of the speed.
          const { energyJ, speedMps } = plain.value.landing!
          expect(energyJ.value / (0.5 * plain.value.massKg.value * speedMps ** 2)).toBeCloseTo(1, 9)
          expect(energyJ.value / (plain.value.massKg.value * 9.80665 * 10)).toBeCloseTo(1, 9)
          const longer = weighPart({ ...input, lengthM: lengthM * 1.1, bowM: lengthM * 0.1 })
          if (!longer.ok) throw new Error('refused')
          expect(longer.value.massKg.value).toBeGreaterThan(plain.value.massKg.value)
        },
      ),
      { seed: 3, numRuns: 200 },
    )
  })

  // Half a circle: chord 2, bow 1, length π.
  it('measures a curved part along its arc', () => {
    expect(log(10, 2 / M_PER_FOOT, 50, { bowM: 1 }).axisM).toBeCloseTo(Math.PI, 9)
  })

  it('refuses what no tree has, with the figure’s path', () => {
    const input = {
      lengthM: 4,
      buttDiameterCm: 30,
      tipDiameterCm: 20,
      foliageShare: 0,
      densityKgM3: { value: 900, least: 900, most: 900 },
      heightM: 5,
    }
    for (const [path, bad] of [
      ['lengthM', { lengthM: -1 }],
      ['buttDiameterCm', { buttDiameterCm: 5000 }],
      ['bowM', { bowM: 3 }],
      ['heightM', { heightM: Number.NaN }],
      ['densityKgM3', { densityKgM3: { value: 900, least: 950, most: 1000 } }],
    ] as const) {
      const outcome = weighPart({ ...input, ...bad } as never)
      expect(outcome.ok ? 'taken' : outcome.refusals.map((one) => `${one.code} ${one.path}`)).toEqual([
        `out-of-range ${path}`,
      ])
    }
  })

  it('asks for what is missing', () => {
    const outcome = weighPart({
      lengthM: 4,
      buttDiameterCm: 30,
      foliageShare: 0,
      densityKgM3: { value: 900, least: 900, most: 900 },
      heightM: null,
    } as never)
    expect(outcome.ok ? 'taken' : outcome.refusals.map((one) => `${one.code} ${one.path}`)).toEqual([
      'required tipDiameterCm',
    ])
  })

  // General reasoning: whatever makes a part larger or denser makes it heavier, and its span keeps the figure inside.
  it('grows with each of its dimensions', () => {
    const size = (min: number, max: number) => fc.double({ min, max, noNaN: true })
    const keys = [
      'lengthM',
      'bowM',
      'buttDiameterCm',
      'tipDiameterCm',
      'middleDiameterCm',
      'foliageShare',
    ] as const
    const part = fc.record({
      lengthM: size(2, 40),
      bowM: size(0.1, 0.8),
      buttDiameterCm: size(5, 200),
      tipDiameterCm: size(1, 200),
      middleDiameterCm: size(1, 200),
      foliageShare: size(0.01, 1),
    })
    fc.assert(
      fc.property(part, fc.constantFrom(...keys), fc.boolean(), (one, key, middle) => {
        fc.pre(middle || key !== 'middleDiameterCm')
        const mass = (more: object) => {
          const outcome = weighPart({
            ...one,
            ...more,
            ...(middle ? {} : { middleDiameterCm: null }),
            densityKgM3: { value: 900, least: 800, most: 1000 },
            heightM: null,
          })
          if (!outcome.ok) throw new Error(outcome.refusals[0]!.path)
          return outcome.value.massKg
        }
        const before = mass({})
        expect(mass({ [key]: one[key] * 1.05 }).value).toBeGreaterThan(before.value)
        expect(before.least / before.value).toBeCloseTo(8 / 9, 9)
        expect(before.most / before.value).toBeCloseTo(10 / 9, 9)
      }),
      { seed: 5, numRuns: 300 },
    )
  })

  // Common knowledge, no source: an upright piano weighs 200 to 250 kg, a small car 1 to 1.5 t.
  it('compares with what people know, and keeps that out of reports', () => {
    expect(everydayComparison(230)).toEqual({
      sentence: 'That is about as heavy as an upright piano.',
      forReports: false,
    })
    expect(everydayComparison(1200).sentence).toBe('That is about as heavy as a small car.')
    expect(everydayComparison(90_000).sentence).toContain('heavier than')
    expect(everydayComparison(0.2).sentence).toContain('lighter than')
  })
})

describe('what a rigging point must hold', () => {
  const load = (more: object) => {
    const outcome = riggingLoad({ massKg: 100, dropM: 0, ropeM: 10, ropeStiffnessKn: 50, ...more })
    if (!outcome.ok) throw new Error('refused')
    return outcome.value
  }
  // General mechanics: a load let go on a taut elastic rope pulls twice its weight; both legs side by side double it again.
  it('is twice the weight in the rope for a drop of nothing', () => {
    expect(load({}).ropePeakKn / load({}).hangingKn).toBeCloseTo(2, 12)
    expect(load({}).pointPeakKn / load({}).hangingKn).toBeCloseTo(4, 12)
    expect(load({ legsApartDeg: 120 }).pointPeakKn).toBeCloseTo(load({}).ropePeakKn, 9)
  })
  // The energy taken up by the rope at its longest is the energy of the fall.
  it('balances the energy of the fall', () => {
    const { ropePeakKn: f, hangingKn: w } = load({ dropM: 3 })
    const stretch = f / (50 / 10)
    expect((f * stretch) / 2).toBeCloseTo(w * (3 + stretch), 9)
  })
  // General mechanics: a shorter rope of one make is stiffer, a longer drop brings more energy, and legs apart pull less on the point.
  it('grows with the drop and with a shorter rope, and lessens with legs apart', () => {
    expect(load({ dropM: 2 }).ropePeakKn).toBeGreaterThan(load({ dropM: 1 }).ropePeakKn)
    expect(load({ dropM: 2, ropeM: 5 }).ropePeakKn).toBeGreaterThan(load({ dropM: 2 }).ropePeakKn)
    expect(load({ legsApartDeg: 90 }).pointPeakKn).toBeLessThan(load({}).pointPeakKn)
  })
  it('leaves the judgement to the crew, and refuses what cannot be', () => {
    expect(load({}).cautions.join(' ')).toContain('licensed crews')
    const bad = riggingLoad({ massKg: 100, dropM: Number.NaN, ropeM: 0, ropeStiffnessKn: 50 })
    expect(bad.ok ? [] : bad.refusals.map((one) => one.path)).toEqual(['dropM', 'ropeM'])
  })
})
