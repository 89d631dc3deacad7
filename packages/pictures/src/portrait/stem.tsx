import type { Point } from '../draw/geometry.ts'
import { n, path, type Shape } from '../draw/shape.ts'
import { Shapes } from '../draw/shape-view.tsx'
import { cssPaint } from '../palette/paint.ts'
import type { Drawn } from './dimensions.ts'

type Place = (eastM: number, upM: number) => Point

const outline = {
  fill: cssPaint('leaf'),
  stroke: cssPaint('ink'),
  'stroke-width': 1.2,
  'stroke-linejoin': 'round' as const,
}

/** A stem from the ground to a height, with the flare of its base and two lines of bark. Widths are to scale, at least 2 px. */
export function Stem({
  tree,
  place,
  topM,
  stemM = tree.stemM,
  pxPerM,
  offsetM = 0,
  spread = 0,
  taper = 0.82,
}: {
  tree: Drawn
  place: Place
  topM: number
  stemM?: number
  pxPerM: number
  offsetM?: number
  spread?: number
  /** Width at the top as a share of the width at the foot. */
  taper?: number
}) {
  const half = Math.max(1, (stemM / 2) * pxPerM)
  const flareM = Math.min(1.4, topM * 0.35)
  const at = (upM: number, side: number, share = 1): string => {
    const [x, y] = place(tree.axisM(upM) + offsetM + (spread * upM) / Math.max(topM, 0.1), upM)
    return `${n(x + side * half * share)} ${n(y)}`
  }
  const d = `M${at(0, -1, 1.7)}Q${at(flareM * 0.3, -1, 1.05)} ${at(flareM, -1)}L${at(topM, -1, taper)}L${at(topM, 1, taper)}L${at(flareM, 1)}Q${at(flareM * 0.3, 1, 1.05)} ${at(0, 1, 1.8)}Z`
  const bark =
    half > 3
      ? `M${at(flareM * 0.2, 1, 0.3)}L${at(topM, 1, 0.3 * taper)}M${at(flareM * 0.6, -1, 0.3)}L${at(topM * 0.78, -1, 0.3 * taper)}`
      : ''
  const shapes: Shape[] = [path(d, outline)]
  if (bark) shapes.push(path(bark, { stroke: cssPaint('ink-3'), 'stroke-width': 0.7 }))
  return <Shapes of={shapes} />
}

/** A pole: the stem to its full height, broken off at the top, with a few stubs. */
export function Pole({ tree, place, pxPerM }: { tree: Drawn; place: Place; pxPerM: number }) {
  const half = Math.max(1.2, (tree.stemM / 2) * pxPerM)
  const [x, y] = place(tree.axisM(tree.heightM), tree.heightM)
  const tear = `M${n(x - half * 0.82)} ${n(y + half)}L${n(x - half * 0.5)} ${n(y + half * 0.2)}L${n(x - half * 0.1)} ${n(y + half * 0.9)}L${n(x + half * 0.35)} ${n(y)}L${n(x + half * 0.82)} ${n(y + half)}`
  const stubs = [0.55, 0.68, 0.8].map((share, i) => {
    const side = i % 2 ? -1 : 1
    const [sx, sy] = place(tree.axisM(tree.heightM * share), tree.heightM * share)
    return `M${n(sx + side * half * 0.9)} ${n(sy)}l${n(side * half * 1.3)} ${n(-half * 0.8)}`
  })
  return (
    <>
      <Shapes
        of={[path(stubs.join(''), { stroke: cssPaint('ink'), 'stroke-width': Math.max(1.2, half * 0.4) })]}
      />
      <Stem tree={tree} place={place} topM={Math.max(0.05, tree.heightM - half / pxPerM)} pxPerM={pxPerM} />
      <Shapes of={[path(tear, { ...outline, fill: cssPaint('paper') })]} />
    </>
  )
}

/** A stump: its cut face seen a little from above. */
export function Stump({ tree, place, pxPerM }: { tree: Drawn; place: Place; pxPerM: number }) {
  const half = Math.max(3, (tree.stemM / 2) * pxPerM)
  const [x, y] = place(0, 0)
  const top = y - Math.max(3, tree.heightM * pxPerM)
  const face = half * 0.26
  return (
    <Shapes
      of={[
        path(
          `M${n(x - half * 1.35)} ${n(y)}Q${n(x - half)} ${n(y - 2)} ${n(x - half)} ${n(top)}H${n(x + half)}Q${n(x + half)} ${n(y - 2)} ${n(x + half * 1.4)} ${n(y)}Z`,
          outline,
        ),
        ...[1, 0.62, 0.28].map(
          (share, i): Shape => ({
            tag: 'ellipse',
            at: {
              cx: x,
              cy: top,
              rx: half * share,
              ry: face * share,
              fill: i ? 'none' : cssPaint('wood-sound'),
              stroke: cssPaint(i ? 'wood-line' : 'ink'),
              'stroke-width': i ? 0.7 : 1.2,
            },
          }),
        ),
      ]}
    />
  )
}
