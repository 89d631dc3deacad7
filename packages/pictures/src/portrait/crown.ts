import { drawsFrom, type Point } from '../draw/geometry.ts'
import { n } from '../draw/shape.ts'
import type { Drawn } from './dimensions.ts'
import type { Habit } from './types.ts'

// Half width at a share of the crown's height, 0 at its base to 1 at its top; rough shapes of ours, scaled to 1 at their widest.
const shapes: Readonly<Record<Habit, (u: number) => number>> = {
  round: (u) => Math.sin(Math.PI * Math.min(1, 0.08 + u * 0.92)) ** 0.62 * (1.02 - 0.28 * u),
  columnar: (u) => Math.sin(Math.PI * (0.1 + 0.9 * u)) ** 0.42 * (1 - 0.12 * u),
  conical: (u) => Math.min(1, 0.72 + u * 4) * (1 - u) ** 0.86,
  weeping: (u) => (1 - u ** 2.4) ** 0.6 * (0.86 + 0.14 * Math.min(1, u * 3)),
  palm: (u) => Math.sin(Math.PI * Math.min(1, 0.2 + u * 0.8)) ** 0.7,
}

const SAMPLES = 40
const widest = Object.fromEntries(
  Object.entries(shapes).map(([habit, shape]) => {
    const at = Array.from({ length: SAMPLES + 1 }, (_, i) => i / SAMPLES)
    const best = at.reduce((a, b) => (shape(b) > shape(a) ? b : a))
    return [habit, { u: best, width: shape(best) }]
  }),
) as Record<Habit, { u: number; width: number }>

const LEAST_HALF_M = 0.2
// Other crowns of a group stand out this far beside the one that is measured.
const FELLOWS_SHARE = 1.75

/**
 * Left and right edge of the crown at a share of its height, metres east of the foot. At its widest it reaches exactly the
 * recorded radii east and west of the foot, whatever the lean (radii are taken from the foot).
 */
export function crownEdges(tree: Drawn, u: number): readonly [leftM: number, rightM: number] {
  const { u: at, width } = widest[tree.habit]
  const depth = tree.heightM - tree.crownBaseM
  const widestAxis = tree.axisM(tree.crownBaseM + depth * at)
  const least = Math.max(LEAST_HALF_M, 0.15 * (tree.eastM + tree.westM))
  const share = Math.max(0, shapes[tree.habit](u)) / width
  const axis = tree.axisM(tree.crownBaseM + depth * u)
  return [
    axis - Math.max(least, tree.westM + widestAxis) * share,
    axis + Math.max(least, tree.eastM - widestAxis) * share,
  ]
}

/** Whether a point (metres east of the foot, metres up) lies within the crown drawn at a share of its size. */
export function withinCrown(tree: Drawn, eastM: number, heightM: number, share = 0.92): boolean {
  const u = (heightM - tree.crownBaseM) / (tree.heightM - tree.crownBaseM)
  if (u < 0 || u > 0.97) return false
  const [left, right] = crownEdges(tree, u)
  const middle = tree.axisM(heightM)
  return eastM > middle + (left - middle) * share && eastM < middle + (right - middle) * share
}

/** Greatest reach of the crown (or a leaning bare stem) east and west of the foot, metres. */
export function crownSpan(tree: Drawn): readonly [westM: number, eastM: number] {
  const edges = Array.from({ length: SAMPLES + 1 }, (_, i) => crownEdges(tree, i / SAMPLES))
  const bare = tree.eastM + tree.westM === 0
  const [west, east] = bare
    ? [Math.min(0, tree.axisM(tree.heightM)), Math.max(0, tree.axisM(tree.heightM))]
    : [Math.min(...edges.map((e) => e[0])), Math.max(...edges.map((e) => e[1]))]
  const fellows = tree.grouped ? FELLOWS_SHARE : 1
  return [Math.max(0, -west) * fellows, Math.max(0, east) * fellows]
}

/** Outline of the crown as a leafy edge; `place` takes metres (east, up) to the sheet. */
export function crownPath(
  tree: Drawn,
  place: (eastM: number, upM: number) => Point,
  lobePx: number,
  seed: number,
): string {
  if (tree.habit === 'conical') return tiersPath(tree, place)
  const draw = drawsFrom(seed)
  const depth = tree.heightM - tree.crownBaseM
  const steps = 22
  const side = (edge: 0 | 1): Point[] =>
    Array.from({ length: steps + 1 }, (_, i) => {
      const u = i / steps
      const middle = tree.axisM(tree.crownBaseM + depth * u)
      // Leaves bulge outwards, so the edge they stand on keeps within.
      const keep = 0.935 + 0.045 * draw()
      const up = tree.crownBaseM + depth * (0.012 + u * 0.976)
      return place(middle + (crownEdges(tree, u)[edge] - middle) * keep, up)
    })
  const points = [...side(1), ...side(0).reverse()]
  return leaves(points, lobePx)
}

function leaves(points: readonly Point[], lobePx: number): string {
  let d = `M${n(points[0]![0])} ${n(points[0]![1])}`
  points.forEach((a, i) => {
    const c = points[(i + 1) % points.length]!
    const count = Math.max(1, Math.round(Math.hypot(c[0] - a[0], c[1] - a[1]) / lobePx))
    for (let j = 1; j <= count; j++) {
      const step = Math.hypot(c[0] - a[0], c[1] - a[1]) / count
      const r = n(Math.max(0.1, step * 0.62))
      d += `A${r} ${r} 0 0 0 ${n(a[0] + ((c[0] - a[0]) * j) / count)} ${n(a[1] + ((c[1] - a[1]) * j) / count)}`
    }
  })
  return `${d}Z`
}

/** Drooping tiers, as a spruce has them: each tip hangs a little below the notch over it. */
function tiersPath(tree: Drawn, place: (eastM: number, upM: number) => Point): string {
  const depth = tree.heightM - tree.crownBaseM
  const count = 11
  const at = (edge: 0 | 1, u: number, share: number): Point => {
    const middle = tree.axisM(tree.crownBaseM + depth * u)
    return place(middle + (crownEdges(tree, u)[edge] - middle) * share, tree.crownBaseM + depth * u)
  }
  const side = (edge: 0 | 1) =>
    Array.from({ length: count }, (_, i) => i / count).map((u, i) => ({
      tip: at(edge, u + 0.03, i % 2 ? 0.94 : 1),
      pull: at(edge, u + 0.06, 0.72),
      notch: at(edge, Math.min(0.99, u + 0.095), 0.62),
    }))
  const top = place(tree.axisM(tree.heightM), tree.heightM)
  const p = (point: Point) => point.map(n).join(' ')
  const right = side(1)
  const left = side(0).reverse()
  const start = place(tree.axisM(tree.crownBaseM), tree.crownBaseM)
  const up = right.map(({ tip, pull, notch }) => `L${p(tip)}Q${p(pull)} ${p(notch)}`).join('')
  const down = left.map(({ tip, pull, notch }) => `L${p(notch)}Q${p(pull)} ${p(tip)}`).join('')
  return `M${p(start)}${up}L${p(top)}${down}Z`
}
