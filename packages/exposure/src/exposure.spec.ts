import { describe, expect, it } from 'vitest'
import {
  angleFromBearing,
  bearingFromAngle,
  defaultExposurePolicy,
  densityAt,
  exposureOf,
  type FallingTree,
  fallingTreeOf,
  heightFromStemM,
  hourClasses,
  lobesOf,
  meanPeopleIfEven,
  outlineAt,
  reachOf,
  silhouetteOf,
  type ZoneAround,
} from './index.ts'

const tree: FallingTree = {
  heightM: 20,
  stemDiameterCm: 50,
  crownBaseHeightM: 6,
  crownRadiiM: { n: 4, e: 4, s: 4, w: 4 },
  lean: null,
  clearingBearingDeg: null,
}
const box = (id: string, x0: number, x1: number, y0: number, y1: number, people = 4): ZoneAround => ({
  id,
  polygons: [
    [
      [
        [x0, y0],
        [x1, y0],
        [x1, y1],
        [x0, y1],
      ],
    ],
  ],
  areaM2: (x1 - x0) * (y1 - y0),
  hours: hourClasses(new Array(168).fill(people)),
  staticTarget: false,
})
/** Bearing of the highest of the density's 72 samples. */
const likeliest = (t: FallingTree) => {
  const { densityPerDeg } = exposureOf(t, [])
  return densityPerDeg.indexOf(Math.max(...densityPerDeg)) * 5
}

describe('bearings', () => {
  it('run clockwise from north, angles against the clock from east', () => {
    expect([0, 90, 180, 270, 45].map(angleFromBearing).map((a) => (a * 2) / Math.PI)).toEqual([
      1, 0, 3, 2, 0.5,
    ])
    expect(bearingFromAngle(0)).toBe(90)
    expect(bearingFromAngle(Math.PI)).toBe(270)
    for (const bearing of [0.5, 89, 181, 359])
      expect(bearingFromAngle(angleFromBearing(bearing))).toBeCloseTo(bearing, 9)
  })
  it('touch a zone to the east over bearings about 90°, and one to the north about 0°', () => {
    const [east, north] = exposureOf(tree, [box('e', 10, 14, -2, 2), box('n', -2, 2, 10, 14)]).zones
    const { fromDeg, toDeg } = east!.touchingBearings[0]!
    expect((fromDeg + toDeg) / 2).toBeCloseTo(90, 6)
    expect(fromDeg).toBeGreaterThan(45)
    const over = north!.touchingBearings[0]!
    expect((over.fromDeg + over.toDeg) / 2).toBeCloseTo(360, 6)
    expect(over.fromDeg).toBeLessThan(360)
  })
})

describe('which way', () => {
  it('a lean pulls towards its bearing, tighter as it grows', () => {
    const peak = (angleDeg: number) => {
      const lobes = lobesOf({ ...tree, lean: { bearingDeg: 200, angleDeg } })
      return densityAt(lobes, angleFromBearing(200))
    }
    expect(likeliest({ ...tree, lean: { bearingDeg: 200, angleDeg: 10 } })).toBe(200)
    expect(peak(20)).toBeGreaterThan(peak(5))
  })
  it('wind from the west fells towards the east', () => {
    const windRose = Array.from({ length: 16 }, (_, i) => (i === 12 ? 1 : 0))
    expect(likeliest({ ...tree, windRose })).toBe(90)
  })
  it('the heavier side and the clearing pull towards themselves', () => {
    expect(likeliest({ ...tree, crownRadiiM: { n: 2, e: 2, s: 6, w: 2 } })).toBe(180)
    expect(likeliest({ ...tree, clearingBearingDeg: 315 })).toBe(315)
  })
  it('a known direction replaces all the others', () => {
    const got = exposureOf({ ...tree, lean: { bearingDeg: 0, angleDeg: 30 }, knownBearingDeg: 120 }, [])
    expect(got.reasons).toEqual([{ kind: 'known', share: 1 }])
    expect(got.densityPerDeg.indexOf(Math.max(...got.densityPerDeg))).toBe(24)
  })
  it('the weights are the policy’s, scaled to the reasons there are', () => {
    const directionWeights = { even: 1, lean: 3, crown: 5, clearing: 5, wind: 5 }
    const got = exposureOf({ ...tree, lean: { bearingDeg: 0, angleDeg: 5 } }, [], {
      ...defaultExposurePolicy,
      directionWeights,
    })
    expect(got.reasons).toEqual([
      { kind: 'even', share: 0.25 },
      { kind: 'lean', share: 0.75 },
    ])
  })
  // I₁(k) / I₀(k), mean length of a circular normal: Abramowitz and Stegun 1964, table 9.8 (values from memory).
  it.each([
    [1, 0.4464],
    [2, 0.69777],
    [5, 0.89338],
    [10, 0.9486],
  ])('a circular normal of concentration %d has mean length %d', (knownConcentration, length) => {
    const lobes = lobesOf({ ...tree, knownBearingDeg: 90 }, { ...defaultExposurePolicy, knownConcentration })
    const sum = (of: (a: number) => number) =>
      Array.from({ length: 1000 }, (_, i) => (i * Math.PI) / 500).reduce(
        (s, a) => s + (of(a) * densityAt(lobes, a) * Math.PI) / 500,
        0,
      )
    expect(sum(() => 1)).toBeCloseTo(1, 12)
    expect(sum(Math.cos)).toBeCloseTo(length, 4)
  })
})

describe('the silhouette', () => {
  it('has the axes of the method: along half the crown’s depth, across the mean radius, 0.25 m of body beside the stem', () => {
    const { silhouette, flags } = silhouetteOf({ ...tree, crownRadiiM: { n: 2, e: 4, s: 6, w: 4 } })
    expect(silhouette).toEqual({ kind: 'crowned', halfWidthM: 0.5, centreM: 13, alongM: 7, acrossM: 4 })
    expect(flags).toEqual([])
    expect(reachOf(tree)).toBeCloseTo(20, 9)
  })
  it('of a tree leaning 30° is 23.09 m long at 20 m of height', () => {
    expect(reachOf({ ...tree, lean: { bearingDeg: 0, angleDeg: 30 } })).toBeCloseTo(23.094, 3)
  })
  it('flags every input that was not measured', () => {
    const bare: FallingTree = {
      ...tree,
      heightEstimated: true,
      stemDiameterCm: null,
      crownBaseHeightM: null,
      crownRadiiM: null,
    }
    const { silhouette, flags } = silhouetteOf(bare)
    expect(flags.map((f) => f.code)).toEqual([
      'height-estimated',
      'stem-assumed',
      'crown-radii-assumed',
      'crown-base-assumed',
    ])
    // Base at 0.3 H.
    expect(silhouette).toMatchObject({ centreM: 13, alongM: 7 })
    expect(silhouetteOf({ ...tree, crownBaseHeightM: 25 }).flags.map((f) => f.code)).toEqual([
      'crown-base-above-top',
    ])
  })
  it('of a pole is its stem alone', () => {
    expect(silhouetteOf({ ...tree, pole: true }).silhouette).toEqual({
      kind: 'strip',
      lengthM: 20,
      halfWidthM: 0.5,
    })
  })
  it('is drawn along the bearing, closed, with the area it is counted with', () => {
    const ring = outlineAt(tree, 90)
    expect(ring[0]).toEqual(ring[ring.length - 1])
    expect(Math.max(...ring.map((p) => p[0]))).toBeCloseTo(20, 9)
    expect(Math.max(...ring.map((p) => p[1]))).toBeCloseTo(4, 1)
    expect(Math.max(...outlineAt(tree, 0).map((p) => p[1]))).toBeCloseTo(20, 9)
    const area = ring.slice(1).reduce((s, [x, y], i) => s + ring[i]![0] * y - x * ring[i]![1], 0) / 2
    // Stem 13 × 1, ellipse π·7·4, less the half metre either side that both cover: chords lose a little.
    expect(area).toBeGreaterThan(93)
    expect(area).toBeLessThan(94)
  })
})

describe('a tree record', () => {
  const record = {
    heightM: 18,
    stems: [
      { diameterCm: 30, measuredAtM: 1.3 },
      { diameterCm: 40, measuredAtM: 1.3 },
    ],
    crownBaseHeightM: null,
    crownRadiiM: null,
    lean: null,
    clearingBearingDeg: null,
  }
  it('falls with its stems as one', () => {
    const got = fallingTreeOf(record)
    expect(got.ok && got.value).toMatchObject({ heightM: 18, stemDiameterCm: 50, heightEstimated: false })
  })
  it('without a height is estimated and says so', () => {
    const got = fallingTreeOf({ ...record, heightM: null })
    expect(got.ok && got.value.heightEstimated).toBe(true)
    const heights = [10, 20, 40, 80, 160].map((d) => heightFromStemM(d)).map((h) => (h.ok ? h.value : 0))
    expect(heights).toEqual([...heights].sort((a, b) => a - b))
    expect(heights[0]).toBeGreaterThan(4)
    expect(heights[4]).toBeLessThan(35)
  })
  it('without height or stem is refused', () => {
    const got = fallingTreeOf({ ...record, heightM: null, stems: [] })
    expect(!got.ok && got.refusals.map((r) => [r.code, r.path])).toEqual([['required', 'heightM']])
    const flat = fallingTreeOf({ ...record, heightM: 0 })
    expect(!flat.ok && flat.refusals[0]!.code).toBe('height-implausible')
    expect(() => exposureOf({ ...tree, heightM: 0 }, [])).toThrow(RangeError)
  })
})

describe('zones', () => {
  const codes = (...zones: ZoneAround[]) => exposureOf(tree, zones).flags.map((f) => f.code)
  it('that overlap without one in the other are flagged, those that only meet are not', () => {
    expect(codes(box('a', 5, 10, -3, 3), box('b', 8, 14, -2, 5))).toEqual(['zones-overlap'])
    expect(codes(box('a', 5, 10, -3, 3), box('b', 10, 14, -3, 3))).toEqual([])
    expect(codes(box('park', 4, 14, -5, 5), box('bench', 6, 8, -1, 1))).toEqual([])
    expect(codes(box('a', 5, 10, -3, 3), box('twin', 5, 10, -3, 3))).toEqual(['zones-overlap'])
    expect(codes(box('a', 5, 10, -3, 3), box('empty', 8, 14, -2, 5, 0))).toEqual([])
  })
  it('part of another must lie in it and hold no more', () => {
    expect(codes(box('park', 4, 14, -5, 5), { ...box('bench', 13, 16, -1, 1), partOf: 'park' })).toEqual([
      'part-outside',
    ])
    expect(codes(box('park', 4, 14, -5, 5, 2), { ...box('bench', 6, 8, -1, 1, 3), partOf: 'park' })).toEqual([
      'part-holds-more',
    ])
  })
  it('three deep: each is cut from the smallest that holds it', () => {
    const got = exposureOf(tree, [
      box('park', 2, 18, -8, 8, 9),
      box('green', 4, 14, -5, 5, 5),
      box('bench', 6, 8, -1, 1, 1),
    ])
    expect(got.flags).toEqual([])
    const alone = exposureOf(tree, [box('bench', 6, 8, -1, 1, 1)]).zones[0]!
    expect(got.zones[2]!.people.mean).toBeCloseTo(alone.people.mean, 6)
    expect(got.zones[0]!.people.mean).toBeGreaterThan(0)
  })
  it('out of reach have zeros and stay in the list', () => {
    const got = exposureOf(tree, [box('far', 40, 50, 0, 5), box('near', 5, 9, -2, 2)])
    expect(got.zones.map((z) => [z.id, z.pTouch.mean > 0])).toEqual([
      ['far', false],
      ['near', true],
    ])
    expect(got.zones[0]).toMatchObject({ pAny: 0, touchingBearings: [], people: { mean: 0, most: 0 } })
    expect(got.inputs.zones[0]).toEqual({ id: 'far', areaM2: 50, meanPeople: 4, partOf: null })
    expect(got.methodVersion).toMatch(/^exposure \d+$/)
  })
  it('without area hold nobody and say so', () => {
    const got = exposureOf(tree, [{ ...box('line', 5, 9, 1, 1), areaM2: 0 }])
    expect(got.zones[0]!.pAny).toBe(0)
    expect(got.zones[0]!.flags.map((f) => f.code)).toEqual(['zone-no-area'])
  })
  it('in a first pass with every bearing alike agree with the full figure of a tree without reasons', () => {
    const zones = [box('a', 5, 10, -3, 3), box('b', -4, 4, -14, -9), box('c', 60, 61, 0, 1)]
    const quick = meanPeopleIfEven(tree, zones)
    const full = exposureOf(tree, zones).zones.map((z) => z.people.mean)
    expect(quick[2]).toBe(0)
    expect(full[0]).toBeGreaterThan(0.1)
    full.forEach((mean, i) => {
      expect(quick[i]).toBeCloseTo(mean, 5)
    })
  })
})
