import type { Problem } from '../problem.ts'

/**
 * All shifts as linked lists over trees, each with a start and an end node, and for every node the earliest time and the
 * latest time at which it can be reached with the rest of its shift still possible. With both kept, whether a tree fits
 * between two others is answered from three additions.
 *
 * Nodes: trees 0 to trees − 1, then `trees + 2r` and `trees + 2r + 1` for the start and end of shift r.
 */
export class Tours {
  readonly problem: Problem
  readonly next: Int32Array
  readonly prev: Int32Array
  /** Shift of a node; −1 for a tree that is nowhere. */
  readonly shift: Int32Array
  readonly place: Int32Array
  readonly earliest: Int32Array
  readonly latest: Int32Array
  readonly service: Int32Array
  readonly size: Int32Array
  /** Trees that are nowhere though some shift would allow them, in no order. */
  readonly outside: Int32Array
  readonly outsideAt: Int32Array
  outsideCount = 0
  /** Seconds: ways, lateness and prices of what is left out. */
  cost = 0

  constructor(problem: Problem) {
    const { trees, shifts } = problem
    const nodes = trees + 2 * shifts.length
    this.problem = problem
    this.next = new Int32Array(nodes).fill(-1)
    this.prev = new Int32Array(nodes).fill(-1)
    this.shift = new Int32Array(nodes).fill(-1)
    this.place = Int32Array.from({ length: nodes }, (_, i) => i)
    this.earliest = new Int32Array(nodes)
    this.latest = new Int32Array(nodes)
    this.service = new Int32Array(nodes)
    this.service.set(problem.service)
    this.size = new Int32Array(shifts.length)
    this.outside = new Int32Array(trees)
    this.outsideAt = new Int32Array(trees).fill(-1)
    shifts.forEach((shift, r) => {
      const start = trees + 2 * r
      this.place[start] = problem.startPlace[r]
      this.place[start + 1] = problem.endPlace[r]
      this.shift[start] = r
      this.shift[start + 1] = r
      this.earliest[start] = shift.openSecond
      this.latest[start + 1] = shift.closeSecond
      this.join(start, start + 1)
      this.refresh(r)
    })
    for (let tree = 0; tree < trees; tree++) {
      this.cost += problem.price[tree]
      if (problem.allowed.subarray(tree * shifts.length, (tree + 1) * shifts.length).includes(1))
        this.putOutside(tree)
    }
  }

  join(from: number, to: number): void {
    this.next[from] = to
    this.prev[to] = from
  }

  putOutside(tree: number): void {
    this.shift[tree] = -1
    this.outsideAt[tree] = this.outsideCount
    this.outside[this.outsideCount++] = tree
  }

  takeFromOutside(tree: number): void {
    const at = this.outsideAt[tree]
    const last = this.outside[--this.outsideCount]
    this.outside[at] = last
    this.outsideAt[last] = at
    this.outsideAt[tree] = -1
  }

  /** Works out the earliest times from a node to the end of its shift. */
  forward(from: number): void {
    const { next, prev, place, earliest, service } = this
    const { seconds, places, windows, trees } = this.problem
    for (let node = from; node !== -1; node = next[node]) {
      const before = prev[node]
      if (before === -1) continue
      const arrive = earliest[before] + service[before] + seconds[place[before] * places + place[node]]
      earliest[node] = node < trees ? windows.earliest(node, this.shift[node], arrive) : arrive
    }
  }

  /** Works out the latest times from a node back to the start of its shift. */
  backward(from: number): void {
    const { next, prev, place, latest, service } = this
    const { seconds, places, windows, trees } = this.problem
    for (let node = from; node !== -1; node = prev[node]) {
      const after = next[node]
      if (after === -1) continue
      const leave = latest[after] - service[node] - seconds[place[node] * places + place[after]]
      latest[node] = node < trees ? windows.latest(node, this.shift[node], leave) : leave
    }
  }

  /** Works out all times of a shift. */
  refresh(r: number): void {
    const start = this.problem.trees + 2 * r
    this.forward(this.next[start])
    this.backward(this.prev[start + 1])
  }

  /** True when the shift keeps its hours and windows. Taking a tree out can break them where a detour is quicker than the straight way. */
  keepsHours(r: number): boolean {
    const start = this.problem.trees + 2 * r
    return this.size[r] === 0 || this.earliest[start] <= this.latest[start]
  }

  /** What it costs to come on that shift rather than on time. */
  lateness(tree: number, r: number): number {
    const { lateness, days, shifts } = this.problem
    return lateness[tree * days.length + shifts[r].dayIndex]
  }

  /** Seconds from one node straight to the next; a shift without trees is not driven at all. */
  direct(before: number, after: number): number {
    const { seconds, places, trees } = this.problem
    return before >= trees && after >= trees ? 0 : seconds[this.place[before] * places + this.place[after]]
  }

  /** Seconds that a tree between two nodes adds to the way. */
  detour(tree: number, before: number, after: number): number {
    const { seconds, places } = this.problem
    const { place } = this
    return (
      seconds[place[before] * places + tree] +
      seconds[tree * places + place[after]] -
      this.direct(before, after)
    )
  }

  /** Takes a tree out; times are left for the caller to refresh. */
  remove(tree: number): void {
    const r = this.shift[tree]
    const before = this.prev[tree]
    const after = this.next[tree]
    this.cost += this.problem.price[tree] - this.detour(tree, before, after) - this.lateness(tree, r)
    this.join(before, after)
    this.size[r]--
    this.putOutside(tree)
  }

  /** Puts a tree behind a node, at an added cost of ways and lateness that the caller knows, and refreshes times. */
  insert(tree: number, before: number, added: number): void {
    const r = this.shift[before]
    const after = this.next[before]
    this.takeFromOutside(tree)
    this.join(before, tree)
    this.join(tree, after)
    this.shift[tree] = r
    this.size[r]++
    this.cost += added - this.problem.price[tree]
    this.forward(tree)
    this.backward(tree)
  }

  /** Added seconds of way of a tree between two nodes, or NaN when the hours do not allow it. Lateness comes on top. */
  wayIfFits(tree: number, before: number, after: number, r: number): number {
    const { seconds, places, windows, service } = this.problem
    const { place } = this
    const there = seconds[place[before] * places + tree]
    const on = seconds[tree * places + place[after]]
    let at = this.earliest[before] + this.service[before] + there
    if (windows.has[tree] !== 0) at = windows.earliest(tree, r, at)
    return at + service[tree] + on > this.latest[after] ? Number.NaN : there + on - this.direct(before, after)
  }
}
