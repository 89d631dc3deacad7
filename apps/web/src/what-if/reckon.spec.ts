import { defaultExposurePolicy, type ZoneOnGround } from '@underbough/exposure'
import { type AreaGeometry, type OccupancyProfile, type Position, planeAt } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import {
  carried,
  carryBetween,
  nothing,
  reckonTree,
  reckonZone,
  shutInGusts,
  shutProfile,
  shutWeek,
  shutZone,
  sizeOf,
  type TreeFacts,
} from './reckon.ts'

const foot: Position = [-8.25, -31.67]
const plane = planeAt(...foot)
const box = (east: number, north: number, side: number): AreaGeometry => ({
  type: 'Polygon',
  coordinates: [
    [
      [east, north],
      [east + side, north],
      [east + side, north + side],
      [east, north + side],
      [east, north],
    ].map(([e, n]) => plane.toDegrees(e!, n!)),
  ],
})
const tree: TreeFacts = {
  status: 'standing',
  position: foot,
  heightM: 20,
  stems: [{ diameterCm: 60, measuredAtM: 1.3 }],
  crownBaseHeightM: 5,
  crownRadiiM: { n: 4, e: 6, s: 4, w: 4 },
  lean: { bearingDeg: 90, angleDeg: 4 },
  clearingBearingDeg: null,
  slope: null,
  deadOrBrittle: false,
}
const zone = (id: string, geometry: AreaGeometry, more: Partial<ZoneOnGround> = {}): ZoneOnGround => ({
  id,
  geometry,
  areaM2: 100,
  occupancy: { kind: 'class', word: 'constant', peopleWhenPresent: 4 },
  staticTarget: false,
  partOf: null,
  ...more,
})
const near = zone('near', box(8, -5, 10))
const policy = defaultExposurePolicy

describe('a tree tried out', () => {
  it('reaches less when it is shorter, and touches nothing once it is shorter than the way to the zone', () => {
    const as = (heightM: number) => reckonTree({ ...tree, heightM }, null, [near], policy)!
    const [whole, less, short] = [as(20), as(14), as(6)]
    expect(less.reachM).toBeLessThan(whole.reachM)
    expect(less.joint.people.mean).toBeLessThan(whole.joint.people.mean)
    // The near side of the zone is 8 m away, beyond 6 m of height with its lean.
    expect(short.joint).toEqual({ ...nothing })
  })
  it('is reckoned within a tenth of a second a change, with eight zones about it', () => {
    const zones = Array.from({ length: 8 }, (_, i) =>
      zone(`${i}`, box(14 * Math.cos(i) - 3, 14 * Math.sin(i) - 3, 6)),
    )
    // The quickest of many: what the machine does besides is not the change's.
    const took = Array.from({ length: 25 }, (_, i) => {
      const begun = performance.now()
      reckonTree({ ...tree, heightM: 20 - i / 10 }, null, zones, policy)
      return performance.now() - begun
    })
    expect(Math.min(...took)).toBeLessThan(100)
  })
  it('starts from what stands, and says what nobody measured', () => {
    expect(sizeOf(tree, policy)).toEqual({
      size: { heightM: 20, crownBaseHeightM: 5, crownRadiiM: tree.crownRadiiM },
      assumed: [],
    })
    const bare = { ...tree, heightM: null, crownBaseHeightM: null, crownRadiiM: null }
    expect(sizeOf(bare, policy)!.assumed).toEqual(['height', 'crown base', 'crown radii'])
    expect(sizeOf({ ...bare, stems: [] }, policy)).toBe(null)
    expect(sizeOf({ ...tree, status: 'gone' }, policy)).toBe(null)
  })
})

describe('a zone tried out', () => {
  it('has the figures that the tree has over it, whatever other zones lie about', () => {
    const others = [zone('far', box(-20, 3, 8)), zone('house', box(-4, 9, 6), { staticTarget: true })]
    const all = reckonTree(tree, null, [near, ...others], policy)!
    const own = reckonZone(tree, null, near, [], policy)
    const listed = all.zones.find(({ id }) => id === 'near')!.figures
    for (const key of ['pTouch', 'people', 'pAny'] as const)
      expect(own[key].mean).toBeCloseTo(listed[key].mean, 5)
  })
  it('lies as far away as it was carried, with its shape', () => {
    const moved = carried(near.geometry, 12, -5)
    expect(carryBetween(near.geometry, moved)[0]).toBeCloseTo(12, 6)
    expect(carryBetween(near.geometry, moved)[1]).toBeCloseTo(-5, 6)
    const metres = (area: AreaGeometry) =>
      (area.coordinates[0] as Position[]).map(([lon, lat]) => plane.toMetres(lon, lat))
    metres(moved).forEach(([e, n], i) => {
      const [e0, n0] = metres(near.geometry)[i]!
      expect(Math.hypot(e - e0 - 12, n - n0 + 5)).toBeLessThan(0.001)
    })
    expect(reckonZone(tree, null, zone('near', carried(near.geometry, 60, 0)), [], policy)).toEqual(nothing)
  })
  it('keeps its touch and loses the share of its people while it is shut at gusts', () => {
    const before = reckonZone(tree, null, near, [], policy)
    const after = shutInGusts(before, 0.25)
    expect(after.pTouch).toEqual(before.pTouch)
    expect(after.people.mean).toBeCloseTo(0.75 * before.people.mean, 12)
    expect(after.pAny.most).toBeCloseTo(0.75 * before.pAny.most, 12)
  })
  it('is shut over midnight, and its people are those of the hours that stay open', () => {
    const shut = shutWeek({ fromHour: 20, toHour: 6, days: 'weekend' })
    // Saturday 20:00 to Sunday 06:00, and Sunday 20:00 to Monday 06:00, the week's first hours.
    expect(shut.filter(Boolean).length).toBe(20)
    expect([shut[5 * 24 + 20], shut[6 * 24 + 5], shut[6 * 24 + 6], shut[0], shut[6]]).toEqual([
      true,
      true,
      false,
      true,
      false,
    ])
    expect(shutWeek({ fromHour: 8, toHour: 8, days: 'every' }).every(Boolean)).toBe(true)
    const half = shutZone(near, { fromHour: 0, toHour: 12, days: 'every' })
    const [before, after] = [near, half].map((z) => reckonZone(tree, null, z, [], policy))
    expect(after!.people.mean).toBeCloseTo(before!.people.mean / 2, 6)
  })
  it.each<OccupancyProfile>([
    { kind: 'standing', arrivalsPerHour: new Array(168).fill(3), minutesEach: 20 },
    { kind: 'through', flowPerHour: new Array(168).fill(120), speedMps: 1.4, lengthM: 10 },
    { kind: 'building', peopleInside: new Array(168).fill(5) },
    {
      kind: 'vehicles',
      flowPerHour: new Array(168).fill(90),
      speedKmh: 40,
      lengthM: 20,
      peoplePerVehicle: 1.3,
    },
    { kind: 'class', word: 'frequent', peopleWhenPresent: 2 },
  ])('has nobody there in a week that is shut: $kind', (occupancy) => {
    const week = shutWeek({ fromHour: 0, toHour: 0, days: 'every' })
    const shut = zone('near', near.geometry, { occupancy: shutProfile(occupancy, week) })
    expect(reckonZone(tree, null, shut, [], policy).people.most).toBe(0)
    expect(
      reckonZone(tree, null, zone('near', near.geometry, { occupancy }), [], policy).people.mean,
    ).toBeGreaterThan(0)
  })
})
