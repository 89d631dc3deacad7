import type { Problem } from '../problem.ts'
import type { Random } from './random.ts'

/** Sorts loose trees into an order to put them back in: by chance, longest visit, farthest, nearest or highest price first. */
export class LooseOrder {
  private readonly random: Random
  private readonly problem: Problem
  private readonly key: Float64Array
  private readonly away: Int32Array

  constructor(problem: Problem, random: Random) {
    this.random = random
    this.problem = problem
    this.key = new Float64Array(problem.trees)
    const start = problem.startPlace[0] ?? 0
    this.away = Int32Array.from(
      { length: problem.trees },
      (_, tree) => problem.seconds[start * problem.places + tree],
    )
  }

  sort(trees: Int32Array, count: number): void {
    const { key } = this
    const rule = this.random.below(15)
    for (let i = 0; i < count; i++) key[trees[i]] = this.keyOf(trees[i], rule)
    for (let i = 1; i < count; i++) {
      const tree = trees[i]
      const value = key[tree]
      let at = i - 1
      for (; at >= 0 && key[trees[at]] > value; at--) trees[at + 1] = trees[at]
      trees[at + 1] = tree
    }
  }

  private keyOf(tree: number, rule: number): number {
    if (rule < 4) return this.random.bits()
    if (rule < 8) return -this.problem.service[tree]
    if (rule < 10) return -this.away[tree]
    if (rule < 11) return this.away[tree]
    return -this.problem.price[tree]
  }
}
