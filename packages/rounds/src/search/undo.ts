import type { Tours } from './tours.ts'

/** Remembers the shifts that one step touches, so that a step that was not worth it can be taken back without copying the rest. */
export class Undo {
  private readonly tours: Tours
  private readonly stamp: Int32Array
  private readonly kept: Int32Array
  private readonly keptFrom: Int32Array
  private readonly keptCount: Int32Array
  private keptEnd = 0
  private step = 0
  private costBefore = 0
  readonly touched: Int32Array
  touchedCount = 0

  constructor(tours: Tours) {
    const shifts = tours.problem.shifts.length
    this.tours = tours
    this.stamp = new Int32Array(shifts)
    this.kept = new Int32Array(tours.problem.trees)
    this.keptFrom = new Int32Array(shifts)
    this.keptCount = new Int32Array(shifts)
    this.touched = new Int32Array(shifts)
  }

  begin(): void {
    this.step++
    this.touchedCount = 0
    this.keptEnd = 0
    this.costBefore = this.tours.cost
  }

  /** Call before a shift is changed. */
  touch(r: number): void {
    if (this.stamp[r] === this.step) return
    const { next, size, problem } = this.tours
    this.stamp[r] = this.step
    this.touched[this.touchedCount++] = r
    this.keptFrom[r] = this.keptEnd
    this.keptCount[r] = size[r]
    for (let node = next[problem.trees + 2 * r]; node < problem.trees; node = next[node])
      this.kept[this.keptEnd++] = node
  }

  /** True when every touched shift still keeps its hours. */
  keepsHours(): boolean {
    for (let i = 0; i < this.touchedCount; i++) if (!this.tours.keepsHours(this.touched[i])) return false
    return true
  }

  /** Brings every touched shift back to what it was. `moved` names at least all trees that were taken out or put in. */
  back(moved: Int32Array, count: number): void {
    const { tours, kept } = this
    const { trees } = tours.problem
    for (let i = 0; i < count; i++) if (tours.shift[moved[i]] >= 0) tours.putOutside(moved[i])
    for (let i = 0; i < this.touchedCount; i++) {
      const r = this.touched[i]
      let before = trees + 2 * r
      const end = this.keptFrom[r] + this.keptCount[r]
      for (let k = this.keptFrom[r]; k < end; k++) {
        const tree = kept[k]
        if (tours.outsideAt[tree] >= 0) tours.takeFromOutside(tree)
        tours.shift[tree] = r
        tours.join(before, tree)
        before = tree
      }
      tours.join(before, trees + 2 * r + 1)
      tours.size[r] = this.keptCount[r]
      tours.refresh(r)
    }
    tours.cost = this.costBefore
  }
}
