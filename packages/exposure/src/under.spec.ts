import { type Position, planeAt } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import type { ZoneOnGround } from './around.ts'
import { type TreeOnGround, underOf } from './under.ts'

const at: Position = [-8.25, -31.67]
const plane = planeAt(...at)
/** A box from south-west to north-east, metres east and north of the tree, in which so many people always are. */
const box = (
  id: string,
  [w, s, e, n]: [number, number, number, number],
  people: number,
  more: Partial<ZoneOnGround> = {},
): ZoneOnGround => ({
  id,
  areaM2: (e - w) * (n - s),
  occupancy: { kind: 'class', word: 'constant', peopleWhenPresent: people },
  staticTarget: false,
  partOf: null,
  geometry: {
    type: 'Polygon',
    coordinates: [
      [
        [w, s],
        [e, s],
        [e, n],
        [w, n],
        [w, s],
      ].map(([x, y]): Position => plane.toDegrees(x!, y!)),
    ],
  },
  ...more,
})
const pole: TreeOnGround = {
  position: at,
  positionAccuracyM: null,
  heightM: 20,
  stems: [{ diameterCm: 50, measuredAtM: 1.3 }],
  crownBaseHeightM: null,
  crownRadiiM: null,
  lean: null,
  clearingBearingDeg: null,
  status: 'pole',
}

describe('what a page says of one tree', () => {
  it('has nothing to say where nothing stands', () => {
    expect(underOf({ ...pole, status: 'gone' }, null, [], [])).toBeNull()
  })

  it('gives a part with a known direction its own figures', () => {
    // A pole falls any way alike; the limb only eastwards, and 6 m of it are over in no time westwards.
    const zones = [box('east', [1, -4, 5, 4], 8), box('west', [-15, -4, -11, 4], 8)]
    const limb = { id: 'a', part: 'limb', knownBearingDeg: 90, lengthM: 6, diameterCm: 20 } as const
    const under = underOf(pole, null, zones, [limb])!
    const [east, west] = under.parts[0]!.zones
    expect(under.whole.zones.every((zone) => zone.pTouch.mean > 0.1)).toBe(true)
    expect(east!.pTouch.mean).toBeGreaterThan(0.99)
    expect(west!.pTouch.mean).toBe(0)
  })

  it('says of a building whether it stops the stem, by hand', () => {
    // Wall 10 m off, 4 m deep, 6 m high: the stem rests at atan(6/10), its far edge 14 √(1 + 0.36) = 16.33 m along; of 20 m,
    // 3.67 m hang over straight across it (model review, part 2.2).
    const house = (more: Partial<ZoneOnGround>, depthM = 4) =>
      box('house', [10, -1, 10 + depthM, 1], 3, { staticTarget: true, ...more })
    const facts = (more: Partial<ZoneOnGround>, depthM?: number) =>
      underOf(pole, null, [house(more, depthM)], [])!.shelters[0]!
    const over = facts({ shelterHeightM: 6, shelterClass: 'masonry' })
    expect(over).toMatchObject({ does: 'overhangs', carriesCm: 150 })
    expect(over.nearM).toBeCloseTo(10, 2)
    expect(over.overhangM).toBeCloseTo(20 - 14 * Math.sqrt(1.36), 1)
    expect(facts({ shelterHeightM: 6, shelterClass: 'light' }).does).toBe('too-thick')
    expect(facts({ shelterHeightM: null, shelterClass: 'masonry' }).does).toBe('not-known')
    // A row of houses deeper than the tree is tall, from corner to corner: nothing hangs over.
    const deep = box('house', [10, -60, 60, 60], 3, {
      staticTarget: true,
      shelterHeightM: 6,
      shelterClass: 'masonry',
    })
    expect(underOf(pole, null, [deep], [])!.shelters[0]!.does).toBe('stops')
  })

  it('gives the people that a building keeps out beside those it lets through', () => {
    const zones = [
      box('house', [8, -20, 11, 20], 0, { staticTarget: true, shelterHeightM: 5, shelterClass: 'masonry' }),
      box('yard', [11.5, -5, 16, 5], 20),
    ]
    const under = underOf(pole, null, zones, [])!
    expect(under.peopleUnsheltered).toBeGreaterThan(under.whole.joint.people.mean)
    expect(underOf(pole, null, [zones[1]!], [])!.peopleUnsheltered).toBeNull()
  })

  it('counts hours somebody is there, and a structure as always there', () => {
    const zones = [box('bench', [2, 2, 4, 4], 3), box('wall', [2, -4, 4, -2], 0, { staticTarget: true })]
    const [bench, wall] = underOf(pole, null, zones, [])!.zones
    // Poisson: 1 − e⁻³ of the hours, singly.
    expect(bench!.shareOfHours).toBeCloseTo(1 - Math.exp(-3), 9)
    expect(wall!.shareOfHours).toBe(1)
    const grouped = underOf(pole, null, [box('bench', [2, 2, 4, 4], 3, { groupSize: 3 })], [])!.zones[0]!
    expect(grouped.shareOfHours).toBeCloseTo(1 - Math.exp(-1), 9)
  })
})

describe('a zone with seasons', () => {
  const week = (people: number) => ({ kind: 'class', word: 'constant', peopleWhenPresent: people }) as const
  const lawn = (id: string, months: number[]) =>
    box(id, [2, 2, 8, 8], 10, { seasons: [{ name: 'Band', months, occupancy: week(40) }] })

  it('holds the mean of its months by their days', () => {
    // June to August has 92 of the year's 365.2425 days (Gregorian mean year).
    const [zone] = underOf(pole, null, [lawn('a', [6, 7, 8])], [])!.zones
    expect(zone!.meanPeople).toBeCloseTo(10 + (30 * 92) / 365.2425, 6)
    expect(zone!.shareOfHours).toBeCloseTo(
      1 - (Math.exp(-40) * 92 + Math.exp(-10) * (365.2425 - 92)) / 365.2425,
      9,
    )
  })

  it('is met with another only in the months that both are used', () => {
    // Two zones side by side, alike but for the half of the year in which somebody is there: at any bearing the chances of the two add
    // up, for they never hold people at once; used together all through those months they overlap.
    const empty = (id: string, x: number, months: number[]) =>
      box(id, [x, 2, x + 3, 6], 0, { seasons: [{ name: 'Used', months, occupancy: week(3) }] })
    const first = [1, 2, 3, 4, 5, 6]
    const last = [7, 8, 9, 10, 11, 12]
    const anyOf = (...zones: ZoneOnGround[]) => underOf(pole, null, zones, [])!.whole
    const apart = anyOf(empty('a', 1, first), empty('b', 4, last))
    expect(apart.joint.pAny).toBeCloseTo(apart.zones[0]!.pAny + apart.zones[1]!.pAny, 6)
    const together = anyOf(empty('a', 1, first), empty('b', 4, first))
    expect(together.joint.pAny).toBeLessThan(together.zones[0]!.pAny + together.zones[1]!.pAny - 1e-4)
  })
})
