import { type RefusalCode, refusalCodes } from '@underbough/model'
import { type Problem, suits } from './problem.ts'
import { loadRoutes } from './search/search.ts'
import { cheapestWayIn } from './search/swap.ts'
import { Tours } from './search/tours.ts'
import type { UnplacedVisit } from './types.ts'

/** Every tree that the routes leave out, with the reason; dearest first. */
export function unplacedOf(problem: Problem, routes: readonly Int32Array[]): UnplacedVisit[] {
  const { trees, visits, price } = problem
  const served = new Uint8Array(trees)
  for (const route of routes) for (const tree of route) served[tree] = 1
  const left = visits.map((_, tree) => tree).filter((tree) => served[tree] === 0)
  if (left.length === 0) return []
  const tours = new Tours(problem)
  loadRoutes(tours, routes)
  return left.sort((a, b) => price[b] - price[a] || a - b).map((tree) => rowOf(problem, tours, tree))
}

function rowOf(problem: Problem, tours: Tours, tree: number): UnplacedVisit {
  const visitId = problem.visits[tree].id
  const impossible = whyNever(problem, tree)
  if (impossible) return { visitId, code: impossible, message: refusalCodes[impossible], addedCost: null }
  const way = cheapestWayIn(tours, tree)
  const code = 'unplaced-full'
  if (way === null)
    return {
      visitId,
      code,
      message: 'Every suitable day is full; no single change makes room for it.',
      addedCost: null,
    }
  const minutes = Math.round(Math.max(0, way.added) / 60)
  const message = `${refusalCodes[code]} The cheapest way to place it makes the plan ${minutes} min on the way dearer.`
  return { visitId, code, message, addedCost: way.added }
}

/** Why no shift, even an empty one, could hold the tree; null when one could. */
function whyNever(problem: Problem, tree: number): RefusalCode | null {
  const { allowed, shifts, input, visits, service, seconds, places, startPlace, endPlace } = problem
  const visit = visits[tree]
  if (allowed.subarray(tree * shifts.length, (tree + 1) * shifts.length).includes(1)) return null
  const skilled = shifts.map((_, r) => r).filter((r) => suits(input.crews[shifts[r].crew], visit))
  // A skilled crew without a working day left is a matter of days, not of skill.
  if (skilled.length === 0)
    return input.crews.some((crew) => suits(crew, visit)) ? 'unplaced-no-window' : 'unplaced-no-skill'
  const onDate = skilled.filter(
    (r) => visit.pinned?.date === undefined || visit.pinned.date === shifts[r].date,
  )
  if (onDate.length === 0) return 'unplaced-no-window'
  const length = (r: number) => shifts[r].closeSecond - shifts[r].openSecond
  const way = (r: number) => seconds[startPlace[r] * places + tree] + seconds[tree * places + endPlace[r]]
  if (onDate.every((r) => service[tree] > length(r))) return 'unplaced-too-long'
  if (onDate.every((r) => way(r) > length(r))) return 'unplaced-unreachable'
  if (onDate.every((r) => way(r) + service[tree] > length(r))) return 'unplaced-too-long'
  return 'unplaced-no-window'
}
