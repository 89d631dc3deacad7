import type { Neighbours } from './neighbours.ts'
import type { Random } from './random.ts'
import type { Tours } from './tours.ts'
import type { Undo } from './undo.ts'

/** Neighbours beside which a tree is tried. */
const triedNeighbours = 40
/** Share of the places passed over, so that the search does not always take the same one (Christiaens and Vanden Berghe 2020: 1 %). */
const passedOver = Math.floor(0.01 * 2 ** 32)

/** Puts trees where they add least: beside near neighbours, in an empty shift, or, where no near one is on a fitting shift, anywhere. */
export class Placer {
  private readonly tours: Tours
  private readonly undo: Undo
  private readonly random: Random
  private readonly neighbours: Neighbours
  private readonly tried: number
  private readonly kind: Int32Array
  private readonly kindSeen: Int32Array
  private turn = 0
  /** Compared cost of the best place, and what it really adds: they differ where an empty shift was offered cheaper. */
  private bestCost = 0
  private bestAdded = 0
  private bestBefore = -1

  constructor(tours: Tours, neighbours: Neighbours, undo: Undo, random: Random) {
    this.tours = tours
    this.undo = undo
    this.random = random
    this.neighbours = neighbours
    this.tried = Math.min(triedNeighbours, neighbours.width)
    this.kind = shiftKinds(tours)
    this.kindSeen = new Int32Array(this.kind.length)
  }

  /** Puts the tree in its cheapest place when that costs less than leaving it out. */
  put(tree: number): boolean {
    this.bestCost = this.tours.problem.price[tree]
    this.bestBefore = -1
    this.tryNeighbours(tree)
    this.tryEmpty(tree)
    if (this.bestBefore < 0) return false
    this.undo.touch(this.tours.shift[this.bestBefore])
    this.tours.insert(tree, this.bestBefore, this.bestAdded)
    return true
  }

  private tryNeighbours(tree: number): void {
    const { shift, next, prev, problem } = this.tours
    const { allowed, shifts } = problem
    const { list, width } = this.neighbours
    let seen = 0
    for (let i = 0; i < width; i++) {
      // Past the usual reach only until a few have been seen: some trees have few neighbours that are on a fitting shift.
      if (i >= this.tried && seen >= 3) break
      const other = list[tree * width + i]
      const r = shift[other]
      if (r < 0 || allowed[tree * shifts.length + r] === 0) continue
      seen++
      this.tryGap(tree, other, next[other], r)
      this.tryGap(tree, prev[other], other, r)
    }
    if (seen === 0) this.tryEverywhere(tree)
  }

  private tryEverywhere(tree: number): void {
    const { next, size, problem } = this.tours
    const { allowed, shifts, trees } = problem
    for (let r = 0; r < shifts.length; r++) {
      if (allowed[tree * shifts.length + r] === 0 || size[r] === 0) continue
      for (let node = trees + 2 * r; next[node] !== -1; node = next[node])
        this.tryGap(tree, node, next[node], r)
    }
  }

  private tryEmpty(tree: number): void {
    const { size, problem } = this.tours
    const { allowed, shifts, trees } = problem
    this.turn++
    // The first tree pays the whole way there and back, so a shift worth opening for several would stay empty: now and then it is offered cheaper.
    const share = this.random.below(8) === 0 ? this.random.unit() : 0
    for (let r = 0; r < shifts.length; r++) {
      if (
        size[r] !== 0 ||
        this.kindSeen[this.kind[r]] === this.turn ||
        allowed[tree * shifts.length + r] === 0
      )
        continue
      this.kindSeen[this.kind[r]] = this.turn
      this.tryGap(tree, trees + 2 * r, trees + 2 * r + 1, r, share)
    }
  }

  private tryGap(tree: number, before: number, after: number, r: number, discount = 0): void {
    if (this.random.bits() < passedOver) return
    const late = this.tours.lateness(tree, r)
    if (late >= this.bestCost) return
    const way = this.tours.wayIfFits(tree, before, after, r)
    const compared = way * (1 - discount) + late
    if (compared < this.bestCost) {
      this.bestCost = compared
      this.bestAdded = way + late
      this.bestBefore = before
    }
  }
}

/** Shifts of one day that are alike while empty share a number, so that only the first of them is tried. */
function shiftKinds({ problem }: Tours): Int32Array {
  const { input, shifts } = problem
  const names = shifts.map((shift) => {
    const crew = input.crews[shift.crew]
    return JSON.stringify([
      shift.date,
      crew.level,
      [...crew.equipment].sort(),
      crew.start,
      crew.end,
      shift.openSecond,
      shift.closeSecond,
      shift.pauseAtSecond,
      shift.pauseSeconds,
    ])
  })
  const kinds = [...new Set(names)]
  return Int32Array.from(names, (name) => kinds.indexOf(name))
}
