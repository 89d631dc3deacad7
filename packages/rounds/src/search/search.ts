import type { Problem } from '../problem.ts'
import { neighboursOf } from './neighbours.ts'
import { LooseOrder } from './order.ts'
import { Placer } from './place.ts'
import { Random } from './random.ts'
import { Ruin } from './ruin.ts'
import { bringInOutside } from './swap.ts'
import { Tours } from './tours.ts'
import { Undo } from './undo.ts'

/** Near trees kept for each tree: the widest reach of one ruin step. */
const neighbourWidth = 120
/** Steps between two looks at the outside world. */
const stepsPerReport = 512
/** The last temperature as a share of the first. */
const lastShare = 0.005

/** Where a search stands. */
export interface SearchState {
  iteration: number
  /** Trees of every shift in the best plan so far. */
  best: Int32Array[]
  bestCost: number
  outside: number
}

/**
 * Slack induction by string removals over shifts (Christiaens and Vanden Berghe 2020, doi 10.1287/trsc.2019.0914):
 * take strings of near trees out, put them back where they cost least, keep the change when it is better or, less and
 * less often, a little worse. Yields the first plan at once and then every few hundred steps. The temperature falls with
 * the steps, not with the clock, so that a plan can be made again.
 */
export function* searchSteps(
  problem: Problem,
  seed: number,
  iterations: number,
): Generator<SearchState, SearchState> {
  const random = new Random(seed)
  const tours = new Tours(problem)
  const undo = new Undo(tours)
  const neighbours = neighboursOf(problem, neighbourWidth)
  const placer = new Placer(tours, neighbours, undo, random)
  const ruin = new Ruin(tours, neighbours, undo, random)
  const order = new LooseOrder(problem, random)
  firstPlan(tours, placer, undo)
  const best = new Best(tours)
  yield best.at(0)
  const hot = firstTemperature(problem)
  const steps = problem.trees > 1 && problem.shifts.length > 0 ? iterations : 0
  for (let iteration = 1; iteration <= steps; iteration++) {
    const temperature = hot * lastShare ** (iteration / steps)
    const costBefore = tours.cost
    undo.begin()
    ruin.step()
    order.sort(ruin.loose, ruin.looseCount)
    for (let i = 0; i < ruin.looseCount; i++) placer.put(ruin.loose[i])
    const limit = costBefore - temperature * Math.log(random.unit() + 1e-12)
    if (tours.cost >= limit || !undo.keepsHours()) undo.back(ruin.loose, ruin.looseCount)
    else best.look()
    if (iteration % stepsPerReport === 0 && iteration < steps) yield best.at(iteration)
  }
  best.finish()
  return best.at(steps)
}

/** Dearest first, each into its cheapest gap anywhere. */
function firstPlan(tours: Tours, placer: Placer, undo: Undo): void {
  const { price } = tours.problem
  const waiting = [...tours.outside.subarray(0, tours.outsideCount)].sort(
    (a, b) => price[b] - price[a] || a - b,
  )
  for (const tree of waiting) {
    undo.begin()
    placer.put(tree)
  }
}

/** A quarter of the longest way between two trees: a start that follows near ways instead gave results several per cent worse. */
function firstTemperature({ trees, places, seconds }: Problem): number {
  let longest = 0
  for (let tree = 1; tree < trees; tree++) if (seconds[tree] < 1e7) longest = Math.max(longest, seconds[tree])
  for (let i = 0; i < trees; i++) {
    const way = seconds[i * places + ((i * 7919) % trees)]
    if (way < 1e7) longest = Math.max(longest, way)
  }
  return Math.max(1, longest / 4)
}

/** The best plan so far, kept as links so that keeping it is one copy. */
class Best {
  private readonly tours: Tours
  private readonly next: Int32Array
  private cost: number
  private outside: number

  constructor(tours: Tours) {
    this.tours = tours
    this.next = tours.next.slice()
    this.cost = tours.cost
    this.outside = tours.outsideCount
  }

  look(): void {
    if (this.tours.cost >= this.cost) return
    this.cost = this.tours.cost
    this.outside = this.tours.outsideCount
    this.next.set(this.tours.next)
  }

  at(iteration: number): SearchState {
    return { iteration, best: this.routes(), bestCost: this.cost, outside: this.outside }
  }

  private routes(): Int32Array[] {
    const { trees, shifts } = this.tours.problem
    return shifts.map((_, r) => {
      const route: number[] = []
      for (let node = this.next[trees + 2 * r]; node < trees; node = this.next[node]) route.push(node)
      return Int32Array.from(route)
    })
  }

  /** Goes back to the best plan and brings in what a single change still can. */
  finish(): void {
    const { tours } = this
    loadRoutes(tours, this.routes())
    bringInOutside(tours)
    this.look()
  }
}

/** Empties all shifts and fills them with the given trees. */
export function loadRoutes(tours: Tours, routes: readonly Int32Array[]): void {
  const { trees } = tours.problem
  for (let tree = 0; tree < trees; tree++) if (tours.shift[tree] >= 0) tours.remove(tree)
  for (let r = 0; r < routes.length; r++) tours.refresh(r)
  routes.forEach((route, r) => {
    let before = trees + 2 * r
    for (const tree of route) {
      tours.insert(tree, before, tours.detour(tree, before, tours.next[before]) + tours.lateness(tree, r))
      before = tree
    }
  })
}
