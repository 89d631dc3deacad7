import { drawsFrom, type Point, pathOf, polar, smoothPath } from '../draw/geometry.ts'
import { filled, Patterns, ZonePath } from '../draw/patterns.tsx'
import { Line, Picture, type PictureProps, usePrefix, Words } from '../draw/picture.tsx'
import { bearing, figure, metres } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { type Drawn, drawnOf } from '../portrait/dimensions.ts'
import { clipRing, middleOf, type Window } from './clip.ts'
import { describePlan, type Footprint, type PlanFacts } from './describe-plan.ts'
import { North, ScaleBar } from './furniture.tsx'

const MARGIN_M = 2.4

function windowOf(tree: Drawn, rings: readonly (readonly Point[])[]): Window {
  const ring = rings.flat()
  const xs = [...ring.map((p) => p[0]), tree.eastM, -tree.westM, tree.stemM, -tree.stemM]
  const ys = [...ring.map((p) => p[1]), tree.northM, -tree.southM, tree.stemM, -tree.stemM]
  return {
    west: Math.min(...xs) - MARGIN_M,
    east: Math.max(...xs) + MARGIN_M,
    south: Math.min(...ys) - MARGIN_M,
    north: Math.max(...ys) + MARGIN_M,
  }
}

/** Crown in plan: four radii joined in quarter waves, exact at north, east, south and west. */
export function crownRing(tree: Drawn, seed = 417): Point[] {
  const draw = drawsFrom(seed)
  const radii = [tree.northM, tree.eastM, tree.southM, tree.westM]
  return Array.from({ length: 36 }, (_, i): Point => {
    const quarter = Math.floor(i / 9)
    const share = (1 - Math.cos((Math.PI * (i % 9)) / 9)) / 2
    const radius = radii[quarter]! * (1 - share) + radii[(quarter + 1) % 4]! * share
    const leaf = i % 9 === 0 ? 1 : 0.97 + 0.06 * draw()
    return polar(0, 0, radius * leaf, i * 10).map((v, axis) => (axis ? -v : v)) as unknown as Point
  })
}

/**
 * The tree from above, north up, to scale: crown from its four radii, stem, the outline of a fall one way, and the target
 * zones about it. `pxPerM` and `footPx` put it on the axis of an elevation above it.
 */
export function FallPlan(
  props: PlanFacts & PictureProps & { pxPerM?: number; footPx?: number; maxHeightPx?: number },
) {
  const { tree: record, zones, footprint, was, widthPx = 508, textScale = 1 } = props
  const prefix = usePrefix()
  const tree = drawnOf(record)
  const crownWas = was ? crownRing(drawnOf(was.tree)) : []
  const fit = windowOf(tree, [footprint?.ring ?? [], footprint?.thrown ?? [], was?.ring ?? [], crownWas])
  const room = widthPx - 8
  const k = Math.max(
    0.5,
    props.pxPerM ??
      Math.min(room / (fit.east - fit.west), ((props.maxHeightPx ?? 420) - 54) / (fit.north - fit.south)),
  )
  const footX = props.footPx ?? 4 - fit.west * k
  const window: Window = { ...fit, west: (4 - footX) / k, east: (widthPx - 4 - footX) / k }
  const top = 8
  const at = ([east, north]: Point): Point => [footX + east * k, top + (window.north - north) * k]
  const shown = zones
    .map((zone) => ({ ...zone, ring: clipRing(zone.ring, window) }))
    .filter((zone) => zone.ring.length > 2)
  const footY = at([0, 0])[1]
  const height = top + (window.north - window.south) * k
  const crown = crownRing(tree)
  return (
    <Picture
      widthPx={widthPx}
      heightPx={height + 26 + 26 * textScale}
      says={describePlan(props)}
      textScale={textScale}
    >
      <Patterns prefix={prefix} zones={zones.map((zone) => zone.kind)} hatches={['light']} />
      {tree.eastM + tree.westM > 0 && (
        <path
          data-part="crown"
          d={smoothPath(crown.map(at))}
          fill="var(--green)"
          stroke="var(--ink-3)"
          strokeDasharray={tree.assumed.includes('crown radii') ? '5 3' : undefined}
        />
      )}
      {shown.map((zone) => (
        <ZonePath key={zone.name} kind={zone.kind} prefix={prefix} d={pathOf(zone.ring.map(at), true)} />
      ))}
      {was && (
        <path
          data-part="was"
          d={`${pathOf(was.ring.map(at), true)}${smoothPath(crownWas.map(at))}`}
          fill="none"
          stroke="var(--ink-3)"
          strokeWidth={1.1}
          strokeDasharray="2 3"
        />
      )}
      {footprint && (
        <path
          data-part="footprint"
          d={pathOf(footprint.ring.map(at), true)}
          fill={filled(prefix, 'light')}
          stroke="var(--ink)"
          strokeWidth={1.1}
          strokeDasharray="6 3"
        />
      )}
      {footprint?.thrown && (
        <path
          data-part="thrown"
          d={pathOf(footprint.thrown.map(at), true)}
          fill="none"
          stroke="var(--ink)"
          strokeWidth={1.1}
          strokeDasharray="1.5 4"
        />
      )}
      {footprint && (
        <Line
          from={[footX, footY]}
          to={polar(footX, footY, footprint.reachM * k, footprint.bearingDeg)}
          width={0.9}
        />
      )}
      {record.status === 'standing' && <Radii tree={tree} at={at} />}
      <circle
        cx={n(footX)}
        cy={n(footY)}
        r={n(Math.max(3, (tree.stemM / 2) * k))}
        fill="var(--leaf)"
        stroke="var(--ink)"
        strokeWidth={1.3}
      />
      <circle cx={n(footX)} cy={n(footY)} r={1.5} fill="var(--ink)" />
      {shown.map((zone) => {
        const [x, y] = at(middleOf(zone.ring))
        return (
          <Words
            key={zone.name}
            x={Math.max(zone.name.length * 3, Math.min(widthPx - zone.name.length * 3, x))}
            y={y + 4}
            anchor="middle"
            tone="ink"
            halo
          >
            {zone.name}
          </Words>
        )
      })}
      <ScaleBar
        x={Math.max(4, footX - tree.westM * k)}
        y={height + 22 + 10 * textScale}
        pxPerM={k}
        roomPx={widthPx * 0.34}
      />
      <North x={widthPx - 16} y={top + 24} />
      {footprint && (
        <FootprintWords footprint={footprint} x={widthPx - 28} y={height + 10} textScale={textScale} />
      )}
    </Picture>
  )
}

function FootprintWords({
  footprint,
  x,
  y,
  textScale,
}: {
  footprint: Footprint
  x: number
  y: number
  textScale: number
}) {
  return (
    <>
      <Words x={x} y={y + 10 * textScale} anchor="end" size={11} italic>
        {`where it lies if it falls ${footprint.because}, to ${bearing(footprint.bearingDeg)}`}
      </Words>
      <Words x={x} y={y + 24 * textScale} anchor="end" size={11}>
        {`stem, then crown; reach ${metres(footprint.reachM)}`}
      </Words>
    </>
  )
}

function Radii({ tree, at }: { tree: Drawn; at: (point: Point) => Point }) {
  const spokes = [
    { word: 'N', m: tree.northM, to: [0, tree.northM], shift: [0, -6], anchor: 'middle' },
    { word: 'E', m: tree.eastM, to: [tree.eastM, 0], shift: [-3, -5], anchor: 'end' },
    { word: 'S', m: tree.southM, to: [0, -tree.southM], shift: [0, 14], anchor: 'middle' },
    { word: 'W', m: tree.westM, to: [-tree.westM, 0], shift: [3, -5], anchor: 'start' },
  ] as const
  return spokes
    .filter(({ m }) => m > 0)
    .map(({ word, m, to, shift, anchor }) => {
      const end = at(to)
      return (
        <g key={word}>
          <Line from={at([0, 0])} to={end} tone="ink-3" width={0.7} dash="2 2" />
          <Words x={end[0] + shift[0]} y={end[1] + shift[1]} anchor={anchor} size={11} halo>
            {`${word} ${figure(m)}`}
          </Words>
        </g>
      )
    })
}
