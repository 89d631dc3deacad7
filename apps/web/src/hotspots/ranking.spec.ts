import { describe, expect, it } from 'vitest'
import type { Hotspot } from './hooks.ts'
import { axisOf, ranked } from './ranking.ts'

const spot = (name: string, mean: number, sumModerate: number, rank: number, most = mean): Hotspot => ({
  zone: { id: name, name, kind: 'seating', place: [0, 0] },
  people: { mean, least: 0, most },
  sumModerate,
  trees: 1,
  treesModerate: 1,
  worst: [],
  rank,
})
const spots = [spot('Green', 1, 5, 1), spot('Walk', 3, 2, 2), spot('Bench', 3, 0, 3), spot('Wall', 0, 0, 4)]
const order = (basis: 'one' | 'rated') => ranked(spots, basis).map((s) => [s.rank, s.zone.name])

describe('the order of zones', () => {
  it('puts most people first by either figure, numbers anew, and leaves out zones with nobody under a fall', () => {
    expect(order('one')).toEqual([
      [1, 'Walk'],
      [2, 'Bench'],
      [3, 'Green'],
    ])
    expect(order('rated')).toEqual([
      [1, 'Green'],
      [2, 'Walk'],
    ])
  })
  it('has an axis of whole decades on which the longest bar has its place', () => {
    expect(axisOf([spot('a', 1, 1, 1, 9)])).toEqual({ from: 0.01, to: 10 })
    expect(axisOf([spot('a', 1, 1, 1, 10)])).toEqual({ from: 0.01, to: 10 })
    expect(axisOf([spot('a', 1, 1, 1, 10.1)])).toEqual({ from: 0.01, to: 100 })
    expect(axisOf([])).toEqual({ from: 0.01, to: 10 })
  })
})
