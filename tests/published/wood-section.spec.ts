import {
  bendingOnlyBelow,
  polygonMoments,
  type SectionInput,
  sectionModuli,
  sectionModulus,
  sectionOf,
  torsionOpenOverClosed,
} from '@underbough/wood'
import { polygonArea, polygonCentroid, polygonHull } from 'd3-polygon'
import fc from 'fast-check'
import { Vertices } from 'matter-js'
import { describe, expect, it } from 'vitest'
import { coverage } from './wood-section-truth.ts'

type P = [number, number]
const round = (count: number, radius: (angle: number) => number, from = 0, to = 2 * Math.PI): P[] =>
  Array.from({ length: count }, (_, i) => {
    const angle = from + ((to - from) * i) / (to - from < 2 * Math.PI - 1e-9 ? count - 1 : count)
    return [radius(angle) * Math.cos(angle), radius(angle) * Math.sin(angle)]
  })
/** Mathematical angle (from east, anticlockwise) to bearing. */
const bearing = (angleDeg: number) => (450 - angleDeg) % 360
const degrees = Math.PI / 180

describe('moments of an outline', () => {
  // Closed forms of beam theory: circle, ellipse, ring.
  it.each([
    ['circle', round(7200, () => 15), Math.PI * 15 ** 2, (Math.PI * 15 ** 4) / 4, (Math.PI * 15 ** 4) / 4],
    [
      'ellipse',
      round(7200, () => 1).map(([x, y]): P => [36 * x, 24 * y]),
      Math.PI * 36 * 24,
      (Math.PI * 36 ** 3 * 24) / 4,
      (Math.PI * 36 * 24 ** 3) / 4,
    ],
  ] as const)('of a %s', (_, ring, area, xx, yy) => {
    const got = polygonMoments([ring])!
    expect(got.area / area).toBeCloseTo(1, 5)
    expect(got.xx / xx).toBeCloseTo(1, 5)
    expect(got.yy / yy).toBeCloseTo(1, 5)
    expect(Math.abs(got.xy / xx)).toBeLessThan(1e-9)
  })

  it('of a ring: the hole turns the other way', () => {
    const got = polygonMoments([round(7200, () => 30), round(7200, () => 21).reverse()])!
    expect(got.area / (Math.PI * (30 ** 2 - 21 ** 2))).toBeCloseTo(1, 5)
    expect(got.xx / ((Math.PI * (30 ** 4 - 21 ** 4)) / 4)).toBeCloseTo(1, 5)
  })

  // General-purpose libraries: d3-polygon for area and centroid, matter-js for the polar second moment (its inertia is m·J/A).
  it('agrees with two general-purpose libraries on star-shaped outlines anywhere', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 1, max: 40, noNaN: true }), { minLength: 3, maxLength: 40 }),
        fc.double({ min: -100, max: 100, noNaN: true }),
        fc.double({ min: -100, max: 100, noNaN: true }),
        (radii, dx, dy) => {
          const ring = round(radii.length, (a) => radii[Math.round((a / (2 * Math.PI)) * radii.length)]!).map(
            ([x, y]): P => [x + dx, y + dy],
          )
          const got = polygonMoments([ring])!
          expect(got.area).toBeCloseTo(Math.abs(polygonArea(ring)), 6)
          const [cx, cy] = polygonCentroid(ring)
          expect(got.centroid[0]).toBeCloseTo(cx, 6)
          expect(got.centroid[1]).toBeCloseTo(cy, 6)
          // matter-js takes convex outlines only.
          const hull = polygonHull(ring)!
          const convex = polygonMoments([hull])!
          const about = hull.map(([x, y]) => ({ x: x - convex.centroid[0], y: y - convex.centroid[1] }))
          const polar = Vertices.inertia(about as never, 1) * convex.area
          expect((convex.xx + convex.yy) / polar).toBeCloseTo(1, 8)
        },
      ),
      { seed: 11, numRuns: 200 },
    )
  })
})

describe('section modulus in its tensor form', () => {
  const sound = (Math.PI * 0.3 ** 3) / 4

  // Derived independently for this project from σ = M eᵀC⁻¹(x−x̄) (polygons of 7,200 vertices): ring 0.30/0.24 m with an opening centred
  // on 45° from east. Their edges lie half a vertex (0.025°) within the opening named. Angles in the table from east, anticlockwise.
  const openRing = (openDeg: number): P[] => {
    const half = (openDeg / 2 - 0.025) * degrees
    const from = 45 * degrees + half
    const to = 45 * degrees - half + 2 * Math.PI
    return [...round(3600, () => 0.3, from, to), ...round(3600, () => 0.24, from, to).reverse()]
  }
  it.each([
    [45, { 0: 0.44478, 45: 0.41012, 90: 0.44478, 135: 0.58307, 280: 0.47534 }, 0.39603],
    [120, { 0: 0.21042, 45: 0.20416, 90: 0.21042, 135: 0.47512, 280: 0.23242 }, 0.19135],
  ] as const)('of a ring with an opening of %i°', (open, rows, least) => {
    const ring = openRing(open)
    const moments = polygonMoments([ring])!
    for (const [angle, share] of Object.entries(rows))
      expect(Math.abs(sectionModulus(moments, [ring], bearing(Number(angle))) / sound - share)).toBeLessThan(
        2e-4,
      )
    const all = sectionModuli(
      moments,
      ring.flat(),
      Array.from({ length: 72 }, (_, i) => i * 5),
    )
    expect(Math.abs(Math.min(...all) / sound - least)).toBeLessThan(2e-4)
  })

  it('of an ellipse: the closed form on its axes, and I/c would be 8.33 % too strong between them', () => {
    const ring = round(7200, () => 1).map(([x, y]): P => [0.36 * x, 0.24 * y])
    const moments = polygonMoments([ring])!
    const z = (angle: number) => sectionModulus(moments, [ring], bearing(angle))
    expect(z(0) / 0.024429024474314227).toBeCloseTo(1, 5)
    expect(z(90) / 0.016286016316209486).toBeCloseTo(1, 5)
    expect(Math.abs(z(45) - 0.019163698173450434)).toBeLessThan(2e-4 * 0.019)
    const i45 = (moments.xx + moments.yy) / 2 + moments.xy
    const c45 = Math.max(...ring.map(([x, y]) => Math.abs(x + y) / Math.SQRT2))
    expect(i45 / c45 / z(45)).toBeCloseTo((0.36 ** 2 + 0.24 ** 2) / (2 * 0.36 * 0.24), 4)
  })

  // Off-centre round cavity by the parallel-axis theorem; Kane and Ryan (J. Arboric., Nov 2004): the simple formulae only estimate the loss of I.
  it.each([
    [15, 9, 0, 0.1296, 0.1296],
    [15, 9, 3, 0.2196, 0.29852],
    [15, 9, 5, 0.3796, 0.47756],
    [10, 5, 4, 0.27583, 0.36103],
  ])('of R %d with a cavity b %d off by e %d', (R, b, e, lossI, lossZ) => {
    const rings = [
      round(7200, () => R),
      round(7200, () => b)
        .map(([x, y]): P => [x + e, y])
        .reverse(),
    ]
    const moments = polygonMoments(rings)!
    expect(1 - moments.xx / ((Math.PI * R ** 4) / 4)).toBeCloseTo(lossI, 4)
    expect(1 - sectionModulus(moments, rings, 90) / ((Math.PI * R ** 3) / 4)).toBeCloseTo(lossZ, 4)
  })

  // Published pair for a wall of 0.30 of the radius: 49 % of the area and 24 % of the section modulus are gone
  // (http://www.tree-care.info/uktc/archive/2021/msg00543).
  it('of a ring with t/R 0.30', () => {
    const rings = [round(7200, () => 50), round(7200, () => 35).reverse()]
    const moments = polygonMoments(rings)!
    expect(100 * (1 - moments.area / (Math.PI * 2500))).toBeCloseTo(49, 1)
    expect(100 * (1 - sectionModulus(moments, rings, 33) / ((Math.PI * 50 ** 3) / 4))).toBeCloseTo(24.01, 1)
  })

  // Common practice, no source: a dead centre of 3 in in a stem of 24 in takes well under 1 %.
  it('loses well under 1 % to a 3 in dead centre in a 24 in stem', () => {
    const rings = [round(720, () => 12), round(720, () => 1.5).reverse()]
    expect(1 - sectionModulus(polygonMoments(rings)!, rings, 0) / ((Math.PI * 12 ** 3) / 4)).toBeLessThan(
      0.001,
    )
  })

  // Thin-wall theory (Saint-Venant): slit over closed, t/R 0.3, 0.2, 0.1.
  it.each([
    [0.3, 0.0402684564],
    [0.2, 0.0162601626],
    [0.1, 0.0036832413],
  ])('twisting stiffness left by a slit at t/R %d', (tOverR, ratio) => {
    expect(torsionOpenOverClosed(tOverR)).toBeCloseTo(ratio, 9)
  })

  // Huang et al. 2017 (PMC5414253): bending governs above t/R 0.27 in closed sections of the worked species; 0.30 keeps a margin.
  it('greys what lies below the published change of failure mode', () => {
    expect(bendingOnlyBelow).toBeGreaterThanOrEqual(0.27)
    expect(bendingOnlyBelow).toBeLessThanOrEqual(0.3)
  })
})

const drill = (label: string, bearingDeg: number, wallCm: number, more: object = {}) => ({
  probeId: label,
  label,
  entryBearingDeg: bearingDeg,
  directionDeg: (bearingDeg + 180) % 360,
  tiltDeg: 0,
  barkCm: 0,
  reachedCm: wallCm + 2,
  segments: [
    { fromCm: 0, toCm: wallCm, condition: 'sound' as const },
    { fromCm: wallCm, toCm: wallCm + 2, condition: 'void' as const },
  ],
  ...more,
})
const roundStem = (radiusCm: number, walls: number[], more: Partial<SectionInput> = {}): SectionInput => ({
  heightM: 1.3,
  outline: { by: 'girth', girthCm: 2 * Math.PI * radiusCm, barkCm: 0 },
  readings: walls.map((wall, i) => drill(`T${i + 1}`, (360 * i) / walls.length, wall)),
  cutWalls: [],
  openings: [],
  crownRadiiM: null,
  seed: 1,
  ...more,
})
const section = (input: SectionInput) => {
  const outcome = sectionOf(input)
  if (!outcome.ok) throw new Error(outcome.refusals.map((one) => one.message).join(' '))
  return outcome.value
}

describe('a section from readings', () => {
  // Exact hollow cylinder: Z loss = (d/D)⁴; 24.01 % at t/R 0.30.
  it('of an even wall lies round the closed form, which its range holds', () => {
    const { share } = section(roundStem(30, Array(12).fill(9)))
    expect(share!.p05).toBeLessThan(0.7599)
    expect(share!.p95).toBeGreaterThan(0.7)
    expect(Math.abs(share!.p50! - 0.7599)).toBeLessThan(0.08)
  })

  // The rule of how much may be said, from a Monte Carlo of reading counts made for this model: with up to three readings a quarter and
  // more of the figures are over 10 points too strong.
  it.each([
    [1, 'walls'],
    [3, 'walls'],
    [4, 'range'],
    [5, 'range'],
    [6, 'figures'],
    [8, 'figures'],
  ] as const)('of %i readings says %s', (count, says) => {
    const got = section(roundStem(30, Array(count).fill(9)))
    expect(got.says).toBe(says)
    expect(got.share === null).toBe(says === 'walls')
    expect(got.share?.p50 ?? null).toEqual(says === 'figures' ? expect.any(Number) : null)
    expect(got.readings.map((one) => one.tOverR.toFixed(3))).toEqual(Array(count).fill('0.300'))
  })

  it('with a gap over 75° gives a range, and with an unmeasured opening no figure', () => {
    const bearings = [0, 40, 80, 120, 160, 200]
    const gappy = section(roundStem(30, [], { readings: bearings.map((b, i) => drill(`T${i}`, b, 9)) }))
    expect([gappy.says, gappy.limits]).toEqual(['range', ['gap']])
    const opening = {
      probeId: 'o',
      label: 'O1',
      fromBearingDeg: 20,
      toBearingDeg: 50,
      depthCm: null,
      edgeWallsCm: null,
    }
    const open = section(roundStem(30, Array(8).fill(9), { openings: [opening] }))
    expect([open.says, open.share]).toEqual(['walls', null])
  })

  // A drill aimed past the middle reads long: 3, 6, 9 cm off in a stem of R 30 with a hollow of 20 read 0.8, 3.2 and 7.6 % long.
  it.each([
    [3, 0.8],
    [6, 3.2],
    [9, 7.6],
  ])('places a drill aimed %i cm past the middle', (off, longer) => {
    const angle = Math.asin(off / 30)
    const path = 30 * Math.cos(angle) - Math.sqrt(20 ** 2 - off ** 2)
    expect(100 * (path / 10 - 1)).toBeCloseTo(longer, 1)
    const one = drill('T1', 0, path, { directionDeg: 180 + angle / degrees })
    const [placed] = section(roundStem(30, [], { readings: [one] })).readings
    expect(placed!.wallCm).toBeCloseTo(10, 6)
    expect(placed!.bearingDeg).not.toBeCloseTo(0, 1)
  })

  it('keeps what was not reached open: six short readings in firm wood may hide anything, and never more than sound', () => {
    const short = roundStem(40, [], {
      readings: Array.from({ length: 6 }, (_, i) =>
        drill(`C${i + 1}`, i * 60, 12, {
          reachedCm: 12,
          segments: [{ fromCm: 0, toCm: 12, condition: 'sound' }],
        }),
      ),
    })
    const got = section(short)
    expect(got.readings.every((one) => one.censored && Math.abs(one.unreadCm - 28) < 1e-6)).toBe(true)
    // (d/D)⁴ at the least wall that agrees: t 12 of R 40.
    expect(got.share!.p05).toBeGreaterThan(1 - 0.7 ** 4 - 0.08)
    expect(got.share!.p95).toBeLessThanOrEqual(1 + 1e-9)
    expect(got.share!.p95 - got.share!.p05).toBeGreaterThan(0.03)
    expect(got.wallCm!.cautious.every((wall) => wall <= 40)).toBe(true)
  })

  it('turns with the stem: areas and figures hold whatever is called north', () => {
    const walls = [9, 14, 6, 11, 18, 10]
    const at = (turn: number) =>
      section(
        roundStem(30, [], { readings: walls.map((wall, i) => drill(`T${i}`, (60 * i + turn) % 360, wall)) }),
      )
    const still = at(0)
    for (const turn of [60, 120, 180, 240]) {
      const turned = at(turn)
      // Drawn walls differ with the turn; the figures only by what 200 draws leave open (standard error about 1 point).
      expect(Math.abs(turned.share!.p50! - still.share!.p50!)).toBeLessThan(0.03)
      expect(Math.abs(turned.areaShare! - still.areaShare!)).toBeLessThan(0.03)
    }
  })

  it('orders its figures, keeps to its seed, and moves little for a reading that agrees', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 28, noNaN: true }), { minLength: 6, maxLength: 12 }),
        fc.integer({ min: 0, max: 2 ** 31 }),
        (walls, seed) => {
          const input = roundStem(30, walls, { seed })
          const got = section(input)
          const { p05, p50, p95 } = got.share!
          expect(p05).toBeLessThanOrEqual(p50!)
          expect(p50!).toBeLessThanOrEqual(p95)
          for (const one of got.rose!) expect(one.p05 <= one.p50 && one.p50 <= one.p95).toBe(true)
          expect(section(input).share).toEqual(got.share)
          const step = 360 / walls.length
          const index = Math.round(step / 2 / got.stepDeg)
          const agreeing = drill('X', index * got.stepDeg, Math.max(0.2, got.wallCm!.median![index]!))
          const more = section({ ...input, readings: [...input.readings, agreeing] })
          expect(Math.abs(more.share!.p50! - p50!)).toBeLessThan(0.12)
        },
      ),
      { seed: 5, numRuns: 25 },
    )
  })

  // Even in principle removing wood can re-centre a section (R 15, b 3, e 1: 0.99490 against 0.99494 concentric), by hundredths of a point.
  it('never grows when wall is removed, but for re-centring', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 4, max: 28, noNaN: true }), { minLength: 24, maxLength: 24 }),
        fc.integer({ min: 0, max: 23 }),
        fc.double({ min: 0.05, max: 1, noNaN: true }),
        (walls, which, keep) => {
          const z = (list: number[]) => {
            const cut = (angle: number) => 30 - list[Math.round((angle / (2 * Math.PI)) * 24) % 24]!
            const rings = [round(24, () => 30), round(24, cut).reverse()]
            const moments = polygonMoments(rings)!
            return sectionModuli(moments, rings.flat().flat(), [0, 30, 60, 90, 120, 150])
          }
          const less = walls.map((wall, i) => (i === which ? wall * keep : wall))
          const [before, after] = [Math.min(...z(walls)), Math.min(...z(less))]
          expect(after / before).toBeLessThan(1 + 1e-2)
        },
      ),
      { seed: 9, numRuns: 300 },
    )
  })

  // Stems whose inside is known, read with the errors of a hand: the known strength lies below the 5 % figure in about 5 of 100 (nominal), and
  // never in more than twice that; the range narrows as readings are added. The full count is in the benchmark.
  it.each([
    [false, 10],
    [true, 15],
  ])('holds what is known of invented stems (open: %s)', (open, mostPercent) => {
    const [few, many] = [coverage(60, 6, open), coverage(60, 12, open)]
    for (const one of [few, many]) {
      expect(one.counted).toBeGreaterThan(50)
      expect(100 * one.below).toBeLessThanOrEqual(mostPercent)
      expect(100 * one.above).toBeLessThanOrEqual(15)
    }
    expect(many.width).toBeLessThan(few.width)
  })
})
