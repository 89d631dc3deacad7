import { planeAt } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import type { Stop } from '../api/index.ts'
import type { Filled } from './dayHere.ts'
import { replan } from './replan.ts'

const plane = planeAt(-8.25, -31.67)
const stop = (id: string, eastM: number, doneVisitId: string | null = null) =>
  ({
    id,
    tree: { id: `tree-${id}`, tag: id, position: plane.toDegrees(eastM, 0) },
    level: 2,
    arriveMinute: 500,
    startMinute: 500,
    leaveMinute: 512,
    travelM: 0,
    doneVisitId,
    skippedBecause: null,
  }) as unknown as Stop
// One straight street, 1.25 m/s on foot: a to d stand 60 m apart, so that nobody drives.
const day = {
  date: '2026-11-25',
  detourFactor: 1,
  crew: {
    start: plane.toDegrees(0, 0),
    end: plane.toDegrees(240, 0),
    hours: Array.from({ length: 7 }, () => null),
    breakMinutes: 0,
  },
  daySheet: {
    startMinute: 480,
    stops: [stop('z', 0, 'visit'), stop('b', 120), stop('a', 60), stop('d', 240), stop('c', 180)],
  },
} as unknown as Filled

describe('the rest of a day planned anew', () => {
  it('goes straight along a straight street, and says what moves and what it saves', () => {
    const found = replan(day, null, 'UTC', new Date('2026-11-24T12:00:00Z'))
    expect(found.stopIds).toEqual(['a', 'b', 'c', 'd'])
    expect(found.moves.map(({ stop: { id }, from, to }) => [id, from, to])).toEqual([
      ['a', 2, 1],
      ['b', 1, 2],
      ['c', 4, 3],
      ['d', 3, 4],
    ])
    // By hand, in metres: 120 + 60 + 180 (a drive of 90 s) + 60 + 60, against 240.
    const walk = (metres: number) => metres / 1.25
    const before = walk(120) + walk(60) + Math.min(walk(180), 180 / 6 + 60) + walk(60) + walk(60)
    const beforeQuick = before - walk(120) + Math.min(walk(120), 120 / 6 + 60)
    expect(found.savesMinutes).toBeCloseTo((beforeQuick - walk(240)) / 60, 6)
  })
  it('starts where the phone is', () => {
    const found = replan(day, plane.toDegrees(240, 0), 'UTC', new Date('2026-11-24T12:00:00Z'))
    expect(found.savesMinutes).toBeGreaterThan(0)
    expect(found.stopIds[0]).not.toBe('b')
  })
  it('saves nothing and moves nothing where the order is as short as can be', () => {
    const [z, b, a, d, c] = day.daySheet.stops as [Stop, Stop, Stop, Stop, Stop]
    const straight = { ...day, daySheet: { ...day.daySheet, stops: [z, a, b, c, d] } }
    expect(replan(straight, null, 'UTC')).toMatchObject({ moves: [], savesMinutes: 0 })
  })
})
