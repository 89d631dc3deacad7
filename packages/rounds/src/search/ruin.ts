import type { Neighbours } from './neighbours.ts'
import type { Random } from './random.ts'
import type { Tours } from './tours.ts'
import type { Undo } from './undo.ts'

/** Mean number of trees taken out in one step, and the longest string (Christiaens and Vanden Berghe 2020, doi 10.1287/trsc.2019.0914). */
const meanTakenOut = 10
const longestString = 10
/** Chance that a string leaves some trees in its middle standing. */
const splitChance = 0.5

/** Takes strings of neighbouring trees out of shifts that lie near each other, to make slack there. */
export class Ruin {
  private readonly tours: Tours
  private readonly undo: Undo
  private readonly random: Random
  private readonly neighbours: Neighbours
  private readonly ruined: Int32Array
  private turn = 0
  /** Trees taken out, then outside trees near by that may go in instead. */
  readonly loose: Int32Array
  looseCount = 0
  private readonly isLoose: Int32Array

  constructor(tours: Tours, neighbours: Neighbours, undo: Undo, random: Random) {
    this.tours = tours
    this.undo = undo
    this.random = random
    this.neighbours = neighbours
    this.ruined = new Int32Array(tours.problem.shifts.length)
    this.loose = new Int32Array(tours.problem.trees)
    this.isLoose = new Int32Array(tours.problem.trees)
  }

  step(): void {
    const { tours, random } = this
    const { trees } = tours.problem
    this.turn++
    this.looseCount = 0
    const fromOutside = tours.outsideCount > 0 && random.below(4) === 0
    const seed = fromOutside ? tours.outside[random.below(tours.outsideCount)] : random.below(trees)
    const used = this.shiftsUsed()
    const mean = used === 0 ? 1 : Math.max(1, this.treesIn() / used)
    const longest = Math.min(longestString, mean)
    let strings = Math.floor(random.unit() * ((4 * meanTakenOut) / (1 + longest) - 1) + 1)
    const { list, width } = this.neighbours
    for (let i = -1; i < width && strings > 0; i++) {
      const tree = i < 0 ? seed : list[seed * width + i]
      const r = tours.shift[tree]
      // With a single shift in use its strings all come from there.
      if (r < 0 || (used > 1 && this.ruined[r] === this.turn)) continue
      this.ruined[r] = this.turn
      this.takeString(tree, r, longest)
      strings--
    }
    this.addOutsideNear(seed)
  }

  private shiftsUsed(): number {
    const { size } = this.tours
    let used = 0
    for (let r = 0; r < size.length; r++) if (size[r] > 0) used++
    return used
  }

  private treesIn(): number {
    const { size } = this.tours
    let count = 0
    for (let r = 0; r < size.length; r++) count += size[r]
    return count
  }

  private takeString(tree: number, r: number, longest: number): void {
    const { tours, random, undo } = this
    const { next, prev, size, problem } = tours
    undo.touch(r)
    const take = Math.min(size[r], Math.floor(random.unit() * Math.min(size[r], longest) + 1))
    let spared = 0
    if (take > 1 && take < size[r] && random.unit() < splitChance) {
      spared = 1
      while (take + spared < size[r] && random.unit() > 0.5) spared++
    }
    const span = take + spared
    let node = this.stringStart(tree, span)
    const spareFrom = spared > 0 ? 1 + random.below(take - 1) : span
    const before = prev[node]
    for (let i = 0; i < span && node < problem.trees; i++) {
      const after = next[node]
      if (i < spareFrom || i >= spareFrom + spared) {
        this.setLoose(node)
        tours.remove(node)
      }
      node = after
    }
    tours.forward(next[before])
    tours.backward(prev[problem.trees + 2 * r + 1])
  }

  /** The first tree of a string of `span` trees that holds `tree`, somewhere along it by chance. */
  private stringStart(tree: number, span: number): number {
    const { next, prev, problem } = this.tours
    let ahead = 0
    for (let node = next[tree]; node < problem.trees && ahead < span - 1; node = next[node]) ahead++
    let behind = 0
    for (let node = prev[tree]; node < problem.trees && behind < span - 1; node = prev[node]) behind++
    const least = Math.max(0, span - 1 - ahead)
    let back = least + this.random.below(Math.min(behind, span - 1) - least + 1)
    let node = tree
    for (; back > 0; back--) node = prev[node]
    return node
  }

  private addOutsideNear(seed: number): void {
    const { tours } = this
    if (tours.outsideCount <= this.looseCount) return
    const { list, width } = this.neighbours
    let added = 0
    for (let i = -1; i < width && added < meanTakenOut; i++) {
      const tree = i < 0 ? seed : list[seed * width + i]
      if (tours.outsideAt[tree] < 0 || this.isLoose[tree] === this.turn) continue
      this.setLoose(tree)
      added++
    }
  }

  private setLoose(tree: number): void {
    this.isLoose[tree] = this.turn
    this.loose[this.looseCount++] = tree
  }
}
