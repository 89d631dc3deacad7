import { planeAt } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import {
  buffersOf,
  exposureAround,
  exposureOfMany,
  type FallingTree,
  flagsOfBits,
  hoursOfZones,
  type ZoneOnGround,
  zoneTable,
} from './index.ts'

const tree: FallingTree = {
  heightM: 20,
  stemDiameterCm: 50,
  crownBaseHeightM: null,
  crownRadiiM: { n: 4, e: 5, s: 4, w: 3 },
  lean: { bearingDeg: 100, angleDeg: 6 },
  clearingBearingDeg: null,
}
const [LON, LAT] = [-5.2, 57.1]
const plane = planeAt(LON, LAT)
const week = (people: number) => Array.from({ length: 168 }, (_, hour) => (hour % 24 > 7 ? people : 0))
const zone = (
  id: string,
  corners: [number, number][],
  people: number,
  hole?: [number, number][],
): ZoneOnGround => ({
  id,
  geometry: {
    type: 'Polygon',
    coordinates: [corners, ...(hole ? [hole] : [])].map((ring) =>
      [...ring, ring[0]!].map(([x, y]) => plane.toDegrees(x, y)),
    ),
  },
  areaM2: 60,
  occupancy: { kind: 'building', peopleInside: week(people) },
  staticTarget: false,
  partOf: null,
})
const box = (x: number, y: number, w: number, h: number): [number, number][] => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
]
const zones = [
  zone('path', box(4, -10, 2, 30), 3),
  zone('across', box(0, 3, 12, 3), 3),
  zone('far', box(600, 600, 10, 10), 5),
  zone('court', box(-20, -12, 12, 12), 8, box(-17, -9, 6, 6)),
]

describe('many trees at once', () => {
  const trees = [
    { tree, position: [LON, LAT] as [number, number] },
    { tree: { ...tree, heightM: 9 }, position: plane.toDegrees(-3, 2) },
    { tree, position: plane.toDegrees(605, 605) },
  ]
  const near = [[0, 1, 3], [3, 0], [2]]
  const table = zoneTable(zones)
  const got = exposureOfMany(trees, (t) => near[t]!, table)

  it('says tree by tree what one tree at a time says', () => {
    let row = 0
    trees.forEach((one, t) => {
      const list = near[t]!.map((z) => zones[z]!)
      const single = exposureAround(one.tree, one.position, list, hoursOfZones(list))
      single.zones.forEach((figures, i) => {
        expect([got.pairs.tree[row], got.pairs.zone[row]]).toEqual([t, near[t]![i]])
        expect(got.pairs.touchMean[row]).toBeCloseTo(figures.pTouch.mean, 7)
        expect(got.pairs.touchMost[row]).toBeCloseTo(figures.pTouch.most, 7)
        expect(got.pairs.peopleMean[row]).toBeCloseTo(figures.people.mean, 6)
        expect(got.pairs.peopleCrown[row]).toBeCloseTo(figures.people.crown, 6)
        expect(got.pairs.anyLeast[row]).toBeCloseTo(figures.pAnyRange.least, 6)
        expect(got.pairs.groundStem[row]).toBeCloseTo(figures.groundWithin.stem, 6)
        const [from, to] = [got.pairs.bearingStarts[row]!, got.pairs.bearingStarts[row + 1]!]
        const bearings = figures.touchingBearings.flatMap((b) => [b.fromDeg, b.toDeg])
        expect([...got.pairs.bearings.slice(from, to)].map((b) => b.toFixed(4))).toEqual(
          bearings.map((b) => b.toFixed(4)),
        )
        row++
      })
      expect(got.trees.reachM[t]).toBe(single.reachM)
      expect(got.trees.anyMean[t]).toBeCloseTo(single.joint.pAny, 6)
      expect(flagsOfBits(got.trees.flags[t]!).sort()).toEqual(
        [...new Set(single.flags.map((f) => f.code))].sort(),
      )
    })
    expect(row).toBe(got.pairs.tree.length)
    expect(Math.min(...got.pairs.touchMean.slice(0, 4))).toBeGreaterThan(0)
  })
  it('flags the zones that overlap, and shares the weeks that are equal', () => {
    expect(flagsOfBits(got.pairs.flags[0]!)).toEqual(['zones-overlap'])
    expect(flagsOfBits(got.pairs.flags[2]!)).toEqual([])
    expect(table.profiles.length).toBe(3)
  })
  it('can be handed to another thread, and no buffer twice', () => {
    const copy = structuredClone(got, { transfer: [...new Set(buffersOf(got))] })
    expect(copy.pairs.tree.length).toBe(6)
    expect(got.pairs.tree.length).toBe(0)
  })
})
