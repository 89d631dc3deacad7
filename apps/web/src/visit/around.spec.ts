import { fallingTreeOn } from '@underbough/exposure'
import { type Position, planeAt, type Tree } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { newWhole } from '../api/found.ts'
import { exposureOnPhone, isCurrent, type StoredExposure, type ZoneKept } from './around.ts'
import { zoneUseAt } from './reckon.ts'

const at: Position = [-8.25, -31.67]
const plane = planeAt(...at)
const tree = {
  id: '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a12',
  position: at,
  heightM: 12,
  stems: [{ diameterCm: 40, measuredAtM: 1.3 }],
  crownBaseHeightM: null,
  crownRadiiM: null,
  lean: null,
  clearingBearingDeg: null,
  status: 'standing',
  createdAt: '2026-11-25T10:00:00Z',
} as unknown as Tree
/** A strip 4 m wide whose near edge lies so far east of the tree. */
const zone = (id: string, eastM: number, occupancyWord: ZoneKept['occupancyWord']): ZoneKept => ({
  id,
  name: id,
  kind: 'footpath',
  occupancyWord,
  updatedAt: '2026-11-01T00:00:00Z',
  areaM2: 120,
  occupancy: { kind: 'class', word: occupancyWord, peopleWhenPresent: 2 },
  staticTarget: false,
  valueAtStake: null,
  partOf: null,
  geometry: {
    type: 'Polygon',
    coordinates: [
      [
        [eastM, -15],
        [eastM + 4, -15],
        [eastM + 4, 15],
        [eastM, 15],
        [eastM, -15],
      ].map(([e, n]): Position => plane.toDegrees(e!, n!)),
    ],
  },
})
const now = new Date('2026-11-25T10:00:00Z')

describe('who is under a tree, on the phone', () => {
  it('takes the zones within reach and leaves those beyond it', () => {
    const { exposure, reckonedHere } = exposureOnPhone(
      null,
      tree,
      null,
      [zone('near', 6, 'frequent'), zone('far', 40, 'constant')],
      now,
    )
    expect(reckonedHere).toBe(true)
    expect(exposure?.zones.map(({ name }) => name)).toEqual(['near'])
    // A tree that may fall any way meets a strip on one side in less than half of the falls.
    expect(exposure?.zones[0]?.pTouch.mean).toBeGreaterThan(0)
    expect(exposure?.zones[0]?.pTouch.mean).toBeLessThan(0.5)
  })
  it('has nothing to fall for a tree that is gone', () => {
    const gone = { ...tree, status: 'gone' } as Tree
    expect(exposureOnPhone(null, gone, null, [zone('near', 6, 'frequent')], now).exposure).toBeNull()
  })
  it('keeps the office’s figures until the tree or a zone near it changes', () => {
    const stored = {
      computedAt: '2026-11-20T00:00:00Z',
      inputs: { tree: fallingTreeOn(tree, null) },
    } as unknown as StoredExposure
    const zones = [zone('near', 6, 'frequent')]
    expect(isCurrent(stored, tree, zones)).toBe(true)
    expect(isCurrent(stored, { ...tree, heightM: 15 }, zones)).toBe(false)
    expect(isCurrent(stored, tree, [{ ...zones[0]!, updatedAt: '2026-11-21T00:00:00Z' }])).toBe(false)
  })
})

describe('a tree that only this device knows', () => {
  it('takes the heaviest use within its own height', () => {
    const zones = [zone('path', 6, 'occasional'), zone('stand', 10, 'frequent'), zone('road', 13, 'constant')]
    expect(zoneUseAt(tree, zones)).toBe('frequent')
    expect(zoneUseAt({ ...tree, heightM: 5 }, zones)).toBeNull()
    expect(newWhole(tree, 'frequent').dueBasis).toEqual({
      enteredOn: '2026-11-25',
      zoneUse: 'frequent',
      baselineShare: null,
    })
  })
})
