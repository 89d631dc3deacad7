import { Line, Words } from '../draw/picture.tsx'
import { metres, roundStep } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { crownEdges } from './crown.ts'
import { leanSays } from './describe.ts'
import type { Drawn } from './dimensions.ts'
import { personM, Target, targetHeightM } from './figures.tsx'
import { type Frame, shownWidthM, targetSide } from './frame.ts'
import type { PortraitTarget } from './types.ts'

/** Metres up, at round steps. */
export function MetreRule({
  frame,
  groundPx,
  topM,
  leftPx,
  rightPx,
}: {
  frame: Frame
  groundPx: number
  topM: number
  leftPx: number
  rightPx: number
}) {
  const step = roundStep(38 / frame.pxPerM)
  const ticks = Array.from({ length: Math.floor(topM / step + 1e-9) + 1 }, (_, i) => i * step)
  return ticks.map((m) => {
    const y = groundPx - m * frame.pxPerM
    return (
      <g key={m} data-metres={m} data-y={n(y)}>
        {m > 0 && <Line from={[leftPx - 6, y]} to={[rightPx, y]} tone="rule" width={0.8} />}
        <Words x={leftPx - 9} y={y + 4} anchor="end" size={11}>
          {m === 0 ? '0 m' : n(m)}
        </Words>
      </g>
    )
  })
}

export function Ground({ groundPx, leftPx, rightPx }: { groundPx: number; leftPx: number; rightPx: number }) {
  const strokes = Array.from(
    { length: Math.max(0, Math.floor((rightPx - leftPx - 6) / 9)) },
    (_, i) => `M${n(leftPx + 4 + i * 9)} ${n(groundPx + 1.5)}l-4 4.5`,
  )
  return (
    <>
      <path d={strokes.join('')} stroke="var(--ink-3)" strokeWidth={0.6} />
      <Line from={[leftPx, groundPx]} to={[rightPx, groundPx]} width={1.4} />
    </>
  )
}

/** The target, its name and the measure to it. */
export function Beside({
  target,
  frame,
  groundPx,
  small,
  prefix,
}: {
  target: PortraitTarget
  frame: Frame
  groundPx: number
  small: boolean
  prefix: string
}) {
  const k = frame.pxPerM
  const side = targetSide(target)
  const width = shownWidthM(target) * k
  const near = frame.footPx + side * target.distanceM * k
  const height = targetHeightM(target.kind, target.heightM) * k
  const y = groundPx + 14
  return (
    <>
      <Target
        kind={target.kind}
        prefix={prefix}
        x={side > 0 ? near : near - width}
        y={groundPx}
        widthPx={width}
        heightPx={height}
        pxPerM={k}
      />
      {!small && (
        <>
          <Words
            x={near + (side * width) / 2}
            y={target.distanceM < 0.05 ? groundPx + 20 : groundPx - Math.max(height, personM * k) - 8}
            anchor="middle"
            tone="ink"
            size={11}
            halo
          >
            {target.distanceM < 0.05
              ? `${target.name}, under the tree`
              : `${target.name}, ${metres(target.distanceM)}`}
          </Words>
          {target.distanceM * k > 12 && (
            <>
              <Line from={[frame.footPx, y]} to={[near, y]} tone="ink-2" width={0.8} />
              <Line from={[frame.footPx, y - 4]} to={[frame.footPx, y + 4]} tone="ink-2" width={0.8} />
              <Line from={[near, y - 4]} to={[near, y + 4]} tone="ink-2" width={0.8} />
              <Words x={(frame.footPx + near) / 2} y={y + 12} anchor="middle" size={11}>
                {metres(target.distanceM)}
              </Words>
            </>
          )}
        </>
      )}
    </>
  )
}

/** A plumb line from the foot, and how far the stem leaves it. */
export function Lean({
  tree,
  lean,
  place,
  small,
}: {
  tree: Drawn
  lean: { angleDeg: number; bearingDeg: number }
  place: (eastM: number, upM: number) => readonly [number, number]
  small: boolean
}) {
  const side = tree.axisM(1) < 0 ? -1 : 1
  const at = tree.heightM * 0.88
  const from = place(tree.axisM(at), at)
  const edge = crownEdges(tree, 0.7)[side > 0 ? 1 : 0]
  const wanted = place(edge, 0)[0] + side * 10
  // Towards the rule there may be no room for the words: they stand on the other side of the crown then.
  const out = side < 0 && wanted < 150 ? 1 : side
  const to = out === side ? wanted : place(crownEdges(tree, 0.7)[1], 0)[0] + 10
  const foot = place(0, 0)
  const plumb = place(0, tree.heightM * 0.55)
  return (
    <>
      <Line from={foot} to={plumb} tone="accent" width={0.9} dash="5 3" />
      {!small && (
        <>
          <Words
            x={foot[0] - side * 6}
            y={place(0, Math.min(2.6, tree.heightM * 0.3))[1]}
            anchor={side > 0 ? 'end' : 'start'}
            size={11}
            italic
            halo
          >
            plumb
          </Words>
          <Line from={from} to={[to, from[1]]} width={0.8} />
          <circle cx={n(from[0])} cy={n(from[1])} r={2} fill="var(--ink)" />
          <Words x={to + out * 5} y={from[1] + 4} anchor={out > 0 ? 'start' : 'end'} size={11} halo>
            {leanSays(lean)}
          </Words>
        </>
      )}
    </>
  )
}
