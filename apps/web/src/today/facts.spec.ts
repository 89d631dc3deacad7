import { describe, expect, it } from 'vitest'
import type { Stop } from '../api/index.ts'
import { clock, nextStop, sayStop, sayWay, sayWhence } from './facts.ts'

const stop = (id: string, more: Partial<Stop> = {}): Stop => ({
  id,
  tree: {
    id: `tree-${id}`,
    tag: id,
    species: 'Tilia',
    commonName: null,
    overdueDays: 0,
    risk: 'low',
    seen: true,
    due: null,
  } as unknown as Stop['tree'],
  order: 1,
  arriveMinute: 545,
  startMinute: 545,
  leaveMinute: 557,
  travelM: 180,
  level: 2,
  doneVisitId: null,
  skippedBecause: null,
  addedBecause: null,
  handedFrom: null,
  handedBecause: null,
  ...more,
})

describe("the crew's day", () => {
  it('goes to the first open stop, or to the one chosen while it is open', () => {
    const stops = [stop('a', { doneVisitId: 'v' }), stop('b'), stop('c')]
    expect(nextStop(stops, null)?.id).toBe('b')
    expect(nextStop(stops, 'c')?.id).toBe('c')
    expect(nextStop(stops, 'a')?.id).toBe('b')
    expect(nextStop([stops[0]!], null)).toBeNull()
  })

  it('says what became of a stop', () => {
    expect(sayStop(stop('a', { level: 3 }))).toBe('Advanced')
    expect(sayStop(stop('a', { skippedBecause: 'gate locked' }))).toBe('skipped: gate locked')
    const late = stop('a')
    late.tree.overdueDays = 3
    expect(sayStop(late)).toBe('Basic, overdue')
  })

  it('says whence a stop comes that the plan did not put there', () => {
    expect(sayWhence(stop('a'))).toBeNull()
    expect(sayWhence(stop('a', { addedBecause: 'limb over the bench' }))).toBe(
      'Put on by the crew: limb over the bench',
    )
    expect(sayWhence(stop('a', { handedFrom: 'Crew A', handedBecause: 'no lift' }))).toBe(
      'From Crew A: no lift',
    )
  })

  it('says hours and ways as a person would', () => {
    expect([clock(545), clock(936.9), clock(1510), sayWay(184), sayWay(3412)]).toEqual([
      '9:05',
      '15:36',
      '1:10 next day',
      '180 m',
      '3.4 km',
    ])
  })
})
