import { done, type Outcome, refusal, refused } from '@underbough/model'
import { inputRefusals } from './input.ts'
import { lateFrom, type Problem, problemOf } from './problem.ts'
import { planOf } from './sheets.ts'
import type { RoundInput, RoundPlan } from './types.ts'
import { unplacedOf } from './why.ts'

/** Seconds of way that one risk-day is worth to the plain peer, as a share of the plan's own weight (Assumption: a tenth, as one stop is chosen many times a day). */
const shareOfRiskDay = 0.1

/**
 * The plain peer a plan is compared with: day by day and crew by crew, the next stop is the tree whose urgency most
 * outweighs the time to reach it (urgency order and nearest neighbour in one), until the hours are full.
 * No search, no second thoughts; the same day sheets and the same cost. Refuses what `planRounds` refuses.
 */
export function urgencyThenNearest(input: RoundInput): Outcome<RoundPlan> {
  const made = { seed: 0, iterations: 0 }
  const wrong = inputRefusals(input, made)
  if (wrong.length > 0) return refused(...wrong)
  const built = problemOf(input)
  if (!built.ok) return refused(...built.refusals)
  const problem = built.value
  if (problem.days.length === 0) return refused(refusal('no-day', 'days', { value: input.days }))
  const taken = new Uint8Array(problem.trees)
  const routes = problem.shifts.map((_, r) => dayOf(problem, r, taken))
  return done({
    ...planOf(problem, routes, unplacedOf(problem, routes), made),
    methodVersion: 'urgency-then-nearest-1',
  })
}

function dayOf(problem: Problem, r: number, taken: Uint8Array): Int32Array {
  const { trees, allowed, shifts, startPlace, endPlace, seconds, places, windows, service, visits, weights } =
    problem
  const { openSecond, closeSecond, day } = shifts[r]
  const route: number[] = []
  let place = startPlace[r]
  let now = openSecond
  for (;;) {
    let next = -1
    let best = Number.NEGATIVE_INFINITY
    let nextStart = 0
    for (let tree = 0; tree < trees; tree++) {
      if (taken[tree] === 1 || allowed[tree * shifts.length + r] === 0) continue
      const start = windows.earliest(tree, r, now + seconds[place * places + tree])
      if (start + service[tree] + seconds[tree * places + endPlace[r]] > closeSecond) continue
      const overdue = Math.max(0, day - lateFrom(visits[tree]) + 1)
      const score =
        weights.secondsPerRiskDay * shareOfRiskDay * visits[tree].riskWeight * overdue - (start - now)
      if (score <= best) continue
      best = score
      next = tree
      nextStart = start
    }
    if (next < 0) return Int32Array.from(route)
    taken[next] = 1
    route.push(next)
    now = nextStart + service[next]
    place = next
  }
}
