import { planeAt } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { sayWayThere, wayThere } from './where.ts'

const here: [number, number] = [-8.25, -31.67]
const fix = { position: here, accuracyM: 8, at: '2026-11-25T12:00:00Z' }
const say = (eastM: number, northM: number) =>
  sayWayThere(wayThere(here, planeAt(...here).toDegrees(eastM, northM)), fix)

describe('the way to the next stop', () => {
  it('is the geodesic to a decimetre within a town: 1′ of latitude is 1,848 m at 31.67° (WGS84 meridian arc, from memory)', () => {
    const way = wayThere(here, [-8.25, -31.67 + 1 / 60])
    expect(way.metres).toBeGreaterThan(1847)
    expect(way.metres).toBeLessThan(1850)
    expect(way.bearingDeg).toBeCloseTo(0, 6)
  })
  it('says length and one of eight points of the compass', () => {
    expect([say(170, 170), say(0, -57.4), say(-1234, 0), say(30, -95)]).toEqual([
      '240 m, to the north-east',
      '57 m, to the south',
      '1.2 km, to the west',
      '100 m, to the south',
    ])
  })
  it('claims no direction where the phone cannot tell one', () => {
    expect(say(6, 3)).toBe('Here, as near as the phone can tell')
    expect(sayWayThere({ metres: 40, bearingDeg: 90 }, { ...fix, accuracyM: 60 })).toBe(
      'Here, as near as the phone can tell',
    )
  })
})
