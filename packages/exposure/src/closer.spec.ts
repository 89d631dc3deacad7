import { type Position, planeAt } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import type { ZoneOnGround } from './around.ts'
import { closerOf } from './closer.ts'
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

describe('what moves the figures of one tree', () => {
  it('has nothing to say where nothing stands', () => {
    expect(closerOf({ ...pole, status: 'gone' }, null, [])).toBeNull()
  })

  it('asks for the place of a tree within its accuracy', () => {
    // Half the plane east of a line 20 m off: from there it is just out of reach, 5 m nearer it is met by acos(15/20)/π of all falls, if
    // the pole had no width (closed form); its half width of 0.5 m makes it a little more.
    const zones = [box('half', [20.5, -200, 200, 200], 5)]
    expect(closerOf(pole, null, zones)!.overCircle).toBeNull()
    const circle = closerOf({ ...pole, positionAccuracyM: 5 }, null, zones)!.overCircle!
    expect(circle.joint.least).toBe(0)
    const nearest = Math.acos(15.5 / 20) / Math.PI
    expect(circle.joint.most).toBeGreaterThan(nearest * 0.97)
    expect(circle.joint.most).toBeLessThan(nearest * 1.1)
    expect(circle.joint.mean).toBeGreaterThan(0.02)
    expect(circle.joint.mean).toBeLessThan(circle.joint.most)
    expect(closerOf({ ...pole, positionAccuracyM: 80 }, null, zones)!.overCircle).toBeNull()
  })

  it('names the people among what moves them, over a factor of two to either side', () => {
    // Their mean number goes with the people in the zone: half and twice as many (arithmetic).
    const zones = [box('yard', [3, -6, 9, 6], 4)]
    const { contributions } = closerOf(pole, null, zones)!
    const { mean } = underOf(pole, null, zones, [])!.whole.joint.people
    const { people } = contributions.find(({ input }) => input === 'people')!
    expect(people.least).toBeCloseTo(mean / 2, 9)
    expect(people.most).toBeCloseTo(mean * 2, 9)
    expect(contributions.some(({ input }) => input === 'position')).toBe(false)
    const placed = closerOf({ ...pole, positionAccuracyM: 3 }, null, zones)!.contributions
    expect(placed.some(({ input }) => input === 'position')).toBe(true)
  })
})
