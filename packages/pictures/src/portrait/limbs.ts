import { drawsFrom, type Point } from '../draw/geometry.ts'
import { n } from '../draw/shape.ts'
import { withinCrown } from './crown.ts'
import type { Drawn } from './dimensions.ts'

/** A branch in metres (east, up), with the width of its foot. */
interface Limb {
  from: Point
  bend: Point
  to: Point
  widthM: number
}

/** Where the stem parts into the crown, metres up. */
export const forkM = (tree: Drawn): number => {
  const depth = tree.heightM - tree.crownBaseM
  const share = { round: 0.08, columnar: 0.05, conical: 0.9, weeping: 0.3, palm: 0.5 }[tree.habit]
  return tree.crownBaseM + depth * share
}

/** The branches of a crown, never outside it. The same tree has the same branches every time. */
export function limbsOf(tree: Drawn, seed: number, depth: number): Limb[] {
  const draw = drawsFrom(seed)
  const limbs: Limb[] = []
  const crown = tree.heightM - tree.crownBaseM
  const grow = (from: Point, angle: number, lengthM: number, widthM: number, left: number) => {
    let length = lengthM
    let to: Point = [from[0] + Math.sin(angle) * length, from[1] + Math.cos(angle) * length]
    for (let tries = 0; tries < 5 && !withinCrown(tree, to[0], to[1]); tries++) {
      length *= 0.72
      to = [from[0] + Math.sin(angle) * length, from[1] + Math.cos(angle) * length]
    }
    if (length < crown * 0.03 || !withinCrown(tree, to[0], to[1], 0.97)) return
    const turn = angle + (draw() - 0.5) * 0.5
    const bend: Point = [from[0] + Math.sin(turn) * length * 0.5, from[1] + Math.cos(turn) * length * 0.5]
    limbs.push({ from, bend, to, widthM })
    if (left === 0) return
    const forks = 2 + (draw() > 0.6 ? 1 : 0)
    for (let i = 0; i < forks; i++)
      grow(to, angle * 0.84 + (draw() - 0.5) * 1.3, length * (0.62 + draw() * 0.18), widthM * 0.6, left - 1)
    if (left > 1) {
      const side = draw() > 0.5 ? 0.75 : -0.75
      grow(
        [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2],
        angle + side,
        length * 0.6,
        widthM * 0.45,
        left - 1,
      )
    }
  }
  for (const start of starts[tree.habit](draw)) {
    const up = tree.crownBaseM + crown * start.at
    grow(
      [tree.axisM(up), up],
      start.angle + lean(tree),
      crown * start.length,
      tree.stemM * start.width,
      Math.max(0, depth - (start.short ?? 0)),
    )
  }
  return limbs
}

const lean = (tree: Drawn) => Math.atan(tree.axisM(1)) * 0.7

interface Start {
  /** Share of the crown's height at which it leaves the stem. */
  at: number
  angle: number
  length: number
  width: number
  /** Levels of branching it does without. */
  short?: number
}

const starts: Readonly<Record<Drawn['habit'], (draw: () => number) => Start[]>> = {
  round: () => [
    { at: 0.08, angle: -0.34, length: 0.24, width: 0.46 },
    { at: 0.08, angle: 0.38, length: 0.27, width: 0.5 },
    { at: 0.1, angle: 0.03, length: 0.29, width: 0.42 },
    { at: 0.06, angle: -1.0, length: 0.16, width: 0.22, short: 1 },
    { at: 0.07, angle: 1.05, length: 0.18, width: 0.24, short: 1 },
  ],
  columnar: () =>
    [0.06, 0.18, 0.3, 0.42, 0.54, 0.66, 0.76].flatMap((at, i) => [
      { at, angle: -0.16 - 0.05 * (i % 2), length: 0.22, width: 0.3 - i * 0.03, short: 1 },
      { at: at + 0.05, angle: 0.18, length: 0.2, width: 0.3 - i * 0.03, short: 1 },
    ]),
  conical: (draw) =>
    Array.from({ length: 13 }, (_, i) => 0.04 + i * 0.068).flatMap((at) =>
      [-1, 1].map((side) => ({
        at: at + draw() * 0.02,
        angle: side * (1.72 - at * 0.75),
        length: 0.36 * (1 - at),
        width: 0.13,
        short: 3,
      })),
    ),
  weeping: (draw) =>
    Array.from({ length: 9 }, (_, i) => ({
      at: 0.3 + draw() * 0.12,
      angle: -1.05 + i * 0.26,
      length: 0.3,
      width: 0.26,
      short: 2,
    })),
  palm: () => [],
}

/** Limbs as a few paths, one to a width class, so that a page stays light; widths in px. */
export function limbPaths(
  limbs: readonly Limb[],
  place: (eastM: number, upM: number) => Point,
  pxPerM: number,
): { d: string; widthPx: number }[] {
  const byWidth = new Map<number, string>()
  const at = ([x, y]: Point) => place(x, y).map(n).join(' ')
  for (const limb of limbs) {
    const px = Math.max(0.5, limb.widthM * pxPerM)
    const key = Math.max(0.5, Math.round(px < 3 ? px * 2 : px) / (px < 3 ? 2 : 1))
    byWidth.set(key, `${byWidth.get(key) ?? ''}M${at(limb.from)}Q${at(limb.bend)} ${at(limb.to)}`)
  }
  return [...byWidth].map(([widthPx, d]) => ({ d, widthPx }))
}

/** Hanging twigs of a weeping crown, or the leaves of a palm, as open paths in metres. */
export function hangings(tree: Drawn, seed: number): Point[][] {
  const draw = drawsFrom(seed + 1)
  const depth = tree.heightM - tree.crownBaseM
  if (tree.habit === 'palm') return fronds(tree)
  if (tree.habit !== 'weeping') return []
  const span = tree.eastM + tree.westM
  const lines: Point[][] = []
  for (let i = 0; i < 46; i++) {
    const x = -tree.westM + (span * (i + 0.3 + draw() * 0.5)) / 46
    const top = tree.crownBaseM + depth * (0.42 + 0.45 * draw())
    const foot = tree.crownBaseM + depth * (0.02 + 0.12 * draw())
    if (withinCrown(tree, x, top, 0.9))
      lines.push([
        [x, top],
        [x + (draw() - 0.5) * depth * 0.03, (top + foot) / 2],
        [x + (draw() - 0.5) * depth * 0.02, foot],
      ])
  }
  return lines
}

function fronds(tree: Drawn): Point[][] {
  const depth = tree.heightM - tree.crownBaseM
  const heart: Point = [tree.axisM(forkM(tree)), forkM(tree)]
  return Array.from({ length: 15 }, (_, i) => {
    const angle = -2.1 + (4.2 * i) / 14
    const out = Math.sin(angle)
    const up = Math.cos(angle)
    const reach = out < 0 ? tree.westM + heart[0] : tree.eastM - heart[0]
    const span = Math.sign(out) * Math.min(1, Math.abs(out) * 1.1) * reach
    return [
      heart,
      [heart[0] + span * 0.6, heart[1] + depth * (0.34 + 0.36 * up)],
      [heart[0] + span, heart[1] + depth * (0.5 * Math.max(0, up) + 0.3 * Math.min(0, up) - 0.4 * out * out)],
    ]
  })
}
