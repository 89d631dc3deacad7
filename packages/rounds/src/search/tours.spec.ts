import { expect, it } from 'vitest'
import { problemOf } from '../problem.ts'
import { aCrew, anInput, aVisit } from '../testing.ts'
import { matrixTravel } from '../travel.ts'
import { Tours } from './tours.ts'

it('sees that taking a tree out can break the hours where a detour is quicker than the straight way', () => {
  const keys = ['start:north', 'visit:a', 'visit:b', 'visit:c']
  const seconds = Array.from({ length: 16 }, (_, i) => (i === 1 * 4 + 3 ? 40_000 : 60))
  const travel = matrixTravel({
    keys,
    seconds,
    metres: seconds,
    source: 'made up',
    asOf: null,
    sameAs: { 'end:north': 'start:north' },
  })
  const built = problemOf(
    anInput({ visits: ['a', 'b', 'c'].map((id) => aVisit(id, 0, 0)), crews: [aCrew()], travel }),
  )
  if (!built.ok) throw new Error('refused')
  const problem = built.value
  const tours = new Tours(problem)
  const [a, b, c] = ['a', 'b', 'c'].map((id) => problem.visits.findIndex((visit) => visit.id === id))
  let before = problem.trees
  for (const tree of [a, b, c]) {
    tours.insert(tree, before, tours.detour(tree, before, tours.next[before]))
    before = tree
  }
  expect(tours.keepsHours(0)).toBe(true)
  tours.remove(b)
  tours.refresh(0)
  expect(tours.keepsHours(0)).toBe(false)
  tours.remove(a)
  tours.remove(c)
  tours.refresh(0)
  expect(tours.keepsHours(0)).toBe(true)
  expect(tours.cost).toBe(problem.price.reduce((sum, price) => sum + price, 0))
})
