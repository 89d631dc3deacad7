import type { Tours } from './tours.ts'

/** The cheapest single change that brings an outside tree in. `instead` is the tree it replaces, or −1 for a gap. */
export interface WayIn {
  before: number
  instead: number
  /** Change of the total, seconds; negative when the plan gets better. */
  added: number
}

/** Looks at every gap and every single replacement on every allowed shift; null when none keeps the hours. */
export function cheapestWayIn(tours: Tours, tree: number): WayIn | null {
  const { next, problem } = tours
  const { allowed, shifts, trees, price } = problem
  let best: WayIn | null = null
  for (let r = 0; r < shifts.length; r++) {
    if (allowed[tree * shifts.length + r] === 0) continue
    const base = tours.lateness(tree, r) - price[tree]
    for (let node = trees + 2 * r; next[node] !== -1; node = next[node]) {
      const after = next[node]
      const gap = tours.wayIfFits(tree, node, after, r) + base
      if (gap < (best?.added ?? Number.POSITIVE_INFINITY)) best = { before: node, instead: -1, added: gap }
      if (after >= trees) continue
      const swap = replacing(tours, tree, node, after, r) + base
      if (swap < (best?.added ?? Number.POSITIVE_INFINITY))
        best = { before: node, instead: after, added: swap }
    }
  }
  return best
}

/** Change when `tree` takes the place of `gone`, without the new tree's own lateness and price; NaN when the hours do not allow it. */
function replacing(tours: Tours, tree: number, before: number, gone: number, r: number): number {
  const after = tours.next[gone]
  const way = tours.wayIfFits(tree, before, after, r)
  return way - tours.detour(gone, before, after) - tours.lateness(gone, r) + tours.problem.price[gone]
}

/** Brings in outside trees, dearest first, while a single change makes the plan better. */
export function bringInOutside(tours: Tours): void {
  for (let pass = 0; pass < 4; pass++) {
    const costBefore = tours.cost
    const waiting = [...tours.outside.subarray(0, tours.outsideCount)].sort(
      (a, b) => tours.problem.price[b] - tours.problem.price[a] || a - b,
    )
    for (const tree of waiting) {
      const way = cheapestWayIn(tours, tree)
      if (way === null || way.added >= 0) continue
      takeWayIn(tours, tree, way)
    }
    if (tours.cost >= costBefore) return
  }
}

function takeWayIn(tours: Tours, tree: number, way: WayIn): void {
  const r = tours.shift[way.before]
  if (way.instead >= 0) {
    tours.remove(way.instead)
    tours.refresh(r)
  }
  tours.insert(
    tree,
    way.before,
    tours.detour(tree, way.before, tours.next[way.before]) + tours.lateness(tree, r),
  )
}
