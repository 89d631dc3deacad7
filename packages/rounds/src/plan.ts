import { done, type Outcome, refusal, refused } from '@underbough/model'
import { inputRefusals } from './input.ts'
import { type Problem, problemOf } from './problem.ts'
import { type SearchState, searchSteps } from './search/search.ts'
import { planOf } from './sheets.ts'
import type { RoundInput, RoundOptions, RoundPlan, RoundProgress } from './types.ts'
import { unplacedOf } from './why.ts'

/**
 * Day sheets for the given trees, crews and days.
 *
 * Minimises seconds on the way + secondsPerRiskDay × Σ risk weight × days overdue + the prices of what is left out, within
 * hours, levels, equipment, windows and pins. The same input, seed and number of iterations give the same plan.
 * Runs to its end in one go; `planRoundsInSteps` gives the caller its turn in between.
 *
 * Refuses input that cannot be planned: `no-crew`, `no-day`, `crew-hours`, `id-duplicate`, `malformed`, `out-of-range`,
 * `unknown`, `too-large`, `geometry-outside-world`. A tree that finds no place is no refusal: it is listed with its reason.
 */
export function planRounds(input: RoundInput, options: RoundOptions): Outcome<RoundPlan> {
  const steps = planRoundsInSteps(input, options)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/**
 * The same, a few hundred steps at a time: yields first the first valid plan, then how far it has come. A worker can look
 * at its messages in between and stop asking (`return()`), or have `cancelled` say so and take the best plan so far.
 */
export function* planRoundsInSteps(
  input: RoundInput,
  options: RoundOptions,
): Generator<RoundProgress, Outcome<RoundPlan>> {
  const wrong = inputRefusals(input, options)
  if (wrong.length > 0) return refused(...wrong)
  const built = problemOf(input)
  if (!built.ok) return refused(...built.refusals)
  const problem = built.value
  if (problem.days.length === 0)
    return refused(
      refusal('no-day', 'days', { value: input.days, limit: 'at least one day on which a crew works' }),
    )
  const { seed, iterations } = options
  const search = searchSteps(problem, seed, iterations)
  let last: SearchState | null = null
  for (;;) {
    const step = search.next()
    const state: SearchState = step.value
    if (step.done) return done(planFrom(problem, state, seed))
    last = state
    const progress = progressOf(problem, last, seed, iterations)
    options.onProgress?.(progress)
    yield progress
    if (options.cancelled?.()) return done(planFrom(problem, last, seed))
  }
}

function planFrom(problem: Problem, { best, iteration }: SearchState, seed: number): RoundPlan {
  return planOf(problem, best, unplacedOf(problem, best), { seed, iterations: iteration })
}

function progressOf(problem: Problem, state: SearchState, seed: number, iterations: number): RoundProgress {
  const placed = state.best.reduce((sum, route) => sum + route.length, 0)
  return {
    iteration: state.iteration,
    iterations,
    total: state.bestCost,
    placed,
    unplaced: problem.trees - placed,
    plan: () => planFrom(problem, state, seed),
  }
}
