import type { Arc } from './arcs.ts'
import { FULL_TURN } from './bearing.ts'
import { type Lobe, lobeAt } from './density.ts'

/**
 * Angles at which a tree is laid down, ascending within 0 and 2π, with the chance that each stands for under each lobe.
 * They cover the arcs they were made for and nothing else.
 */
export interface Nodes {
  size: number
  angle: Float64Array
  cos: Float64Array
  sin: Float64Array
  /** Chance of each node, lobe by lobe: density × weight of the rule. */
  chance: Float64Array[]
}

// Gauss-Legendre on −1..1: nodes and weights for one to four points.
const root = Math.sqrt(30)
const RULES = [
  { at: [0], weight: [2] },
  { at: [-1 / Math.sqrt(3), 1 / Math.sqrt(3)], weight: [1, 1] },
  { at: [-Math.sqrt(0.6), 0, Math.sqrt(0.6)], weight: [5 / 9, 8 / 9, 5 / 9] },
  {
    at: [-outer(), -inner(), inner(), outer()],
    weight: [(18 - root) / 36, (18 + root) / 36, (18 + root) / 36, (18 - root) / 36],
  },
] as const

function inner() {
  return Math.sqrt((3 - 2 * Math.sqrt(1.2)) / 7)
}
function outer() {
  return Math.sqrt((3 + 2 * Math.sqrt(1.2)) / 7)
}

const DEG = Math.PI / 180
/** Up to these widths one, two and three points do; four up to the widest panel, and wider stretches are cut. */
const ONE_UP_TO = 0.05 * DEG
const TWO_UP_TO = 0.4 * DEG
const THREE_UP_TO = 1.5 * DEG
const WIDEST = 4 * DEG
/** Breaks nearer to one another than this are one. */
const APART = 0.03 * DEG

/**
 * Gauss nodes over arcs (flat, ascending). Every end of an arc in `ends` is kept as an end of a panel, so that chances over
 * those arcs are exact; `breaks` (ascending, within 0 and 2π) are where what is integrated has a kink, kept where they
 * stand apart. Between kinks everything is smooth and a panel's error falls with the sixth power of its width and faster.
 */
export function nodesOver(
  arcs: readonly Arc[],
  ends: readonly number[],
  breaks: ArrayLike<number>,
  lobes: readonly Lobe[],
  widest: number = WIDEST,
): Nodes {
  const panels = panelsOf(arcs, ends, breaks, widest)
  let size = 0
  for (const [from, to] of panels) size += pointsFor(to - from)
  const angle = new Float64Array(size)
  const weight = new Float64Array(size)
  let next = 0
  for (const [from, to] of panels) {
    const rule = RULES[pointsFor(to - from) - 1]!
    const half = (to - from) / 2
    for (let k = 0; k < rule.at.length; k++) {
      angle[next] = from + half * (1 + rule.at[k]!)
      weight[next++] = rule.weight[k]! * half
    }
  }
  const cos = new Float64Array(size)
  const sin = new Float64Array(size)
  for (let i = 0; i < size; i++) {
    cos[i] = Math.cos(angle[i]!)
    sin[i] = Math.sin(angle[i]!)
  }
  return { size, angle, cos, sin, chance: lobes.map((lobe) => chancesOf(lobe, angle, cos, sin, weight)) }
}

const pointsFor = (width: number) =>
  width <= ONE_UP_TO ? 1 : width <= TWO_UP_TO ? 2 : width <= THREE_UP_TO ? 3 : 4

function panelsOf(
  arcs: readonly Arc[],
  ends: readonly number[],
  breaks: ArrayLike<number>,
  widest: number,
): [number, number][] {
  const panels: [number, number][] = []
  const kept = [...ends].sort((a, b) => a - b)
  let e = 0
  let b = 0
  const stretch = (from: number, to: number) => {
    const pieces = Math.ceil((to - from) / widest)
    const step = (to - from) / pieces
    for (let k = 0; k < pieces; k++) panels.push([from + k * step, from + (k + 1) * step])
  }
  for (const [from, to] of arcs) {
    let last = from
    while (last < to) {
      while (e < kept.length && kept[e]! <= last + 1e-13) e++
      const end = Math.min(to, kept[e] ?? to)
      while (b < breaks.length && breaks[b]! < last + APART) b++
      const kink = breaks[b] ?? Number.POSITIVE_INFINITY
      const stop = kink < end - APART ? kink : end
      stretch(last, stop)
      last = stop
    }
  }
  return panels
}

function chancesOf(
  lobe: Lobe,
  angle: Float64Array,
  cos: Float64Array,
  sin: Float64Array,
  weight: Float64Array,
): Float64Array {
  const chance = new Float64Array(angle.length)
  if (lobe.parts.length === 0) {
    for (let i = 0; i < chance.length; i++) chance[i] = weight[i]! / FULL_TURN
  } else if (lobe.parts.length > 2) {
    const table = tableOf(lobe)
    for (let i = 0; i < chance.length; i++) chance[i] = weight[i]! * between(table, angle[i]!)
  } else
    for (const { angle: towards, concentration, scale } of lobe.parts) {
      const east = concentration * Math.cos(towards)
      const north = concentration * Math.sin(towards)
      for (let i = 0; i < chance.length; i++)
        chance[i]! += weight[i]! * scale * Math.exp(east * cos[i]! + north * sin[i]! - concentration)
    }
  return chance
}

const TABLE = 1440
let lastRose: { lobe: Lobe; table: Float64Array } | null = null

/** Density of a lobe of many parts, laid out once: the trees of a site share one rose. */
function tableOf(lobe: Lobe): Float64Array {
  if (!lastRose || !sameParts(lastRose.lobe, lobe))
    lastRose = {
      lobe,
      // One more before the turn and two after it, for the four places that each value is taken from.
      table: Float64Array.from({ length: TABLE + 3 }, (_, i) => lobeAt(lobe, ((i - 1) * FULL_TURN) / TABLE)),
    }
  return lastRose.table
}

const sameParts = (a: Lobe, b: Lobe) =>
  a.parts.length === b.parts.length &&
  a.parts.every((part, i) => {
    const other = b.parts[i]!
    return (
      part.angle === other.angle && part.concentration === other.concentration && part.scale === other.scale
    )
  })

/** Cubic through four places of the table; for a concentration of 30 within 3e-8 of the density's highest. */
function between(table: Float64Array, angle: number): number {
  const place = (angle * TABLE) / FULL_TURN
  const cell = Math.min(TABLE - 1, Math.floor(place))
  const t = place - cell
  const a = table[cell]!
  const b = table[cell + 1]!
  const c = table[cell + 2]!
  const d = table[cell + 3]!
  return (
    (-t * (t - 1) * (t - 2) * a) / 6 +
    ((t + 1) * (t - 1) * (t - 2) * b) / 2 -
    ((t + 1) * t * (t - 2) * c) / 2 +
    ((t + 1) * t * (t - 1) * d) / 6
  )
}

/** Places of the nodes that lie within flat arcs, ascending. */
export function nodesWithin(nodes: Nodes, arcs: readonly Arc[]): Int32Array {
  const places = new Int32Array(nodes.size)
  let count = 0
  let i = 0
  for (const [from, to] of arcs) {
    while (i < nodes.size && nodes.angle[i]! < from) i++
    for (; i < nodes.size && nodes.angle[i]! < to; i++) places[count++] = i
  }
  return places.subarray(0, count)
}
