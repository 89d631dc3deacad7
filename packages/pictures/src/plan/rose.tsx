import { type Point, pathOf, polar, wrapBearing } from '../draw/geometry.ts'
import { filled, Patterns, ZonePath } from '../draw/patterns.tsx'
import { Line, Picture, type PictureProps, usePrefix, Words } from '../draw/picture.tsx'
import { wordsWidth } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { bandPath, lanesOf } from './bands.ts'
import { describeRose, type RoseFacts, type RoseZone } from './describe-rose.ts'

const LANE = 10

/**
 * Which way it may fall and what it would meet. Inside, to scale: the fallen outline, and the ring of its reach. Around it
 * how often each bearing is drawn. Outermost, in each zone's pattern, the bearings that touch it.
 */
export function FallRose(props: RoseFacts & PictureProps & { radiusPx?: number }) {
  const {
    densityPerDeg,
    zones,
    footprint,
    reachM,
    leanBearingDeg = null,
    radiusPx: R = 66,
    textScale = 1,
  } = props
  const prefix = usePrefix()
  const lanes = lanesOf(zones)
  const swell = R * 0.6
  const inner = R + swell + 4
  const outer = inner + LANE * Math.max(1, lanes.count)
  const names = Math.max(0, ...zones.map((zone) => wordsWidth(zone.name, 12 * textScale)))
  const cx = Math.max(outer + 12, Math.min(outer + names + 14, outer + 110))
  const cy = outer + 18
  const k = R / Math.max(reachM, 0.1)
  const at = ([east, north]: Point): Point => [cx + east * k, cy - north * k]
  return (
    <Picture widthPx={2 * cx} heightPx={2 * cy} says={describeRose(props)} textScale={textScale}>
      <Patterns prefix={prefix} zones={zones.map((zone) => zone.kind)} hatches={['light']} />
      <circle
        cx={n(cx)}
        cy={n(cy)}
        r={n((inner + outer) / 2)}
        fill="none"
        stroke="var(--rule)"
        strokeWidth={0.9}
      />
      <DensityRing density={densityPerDeg} cx={cx} cy={cy} inner={R} swell={swell} />
      {zones.flatMap((zone, i) =>
        zone.touchingBearings.map((arc) => (
          <ZonePath
            key={`${zone.name}-${arc.fromDeg}`}
            kind={zone.kind}
            prefix={prefix}
            d={bandPath(cx, cy, inner + lanes.of[i]! * LANE, LANE - 1, arc)}
          />
        )),
      )}
      <Compass cx={cx} cy={cy} R={R} quiet={leanBearingDeg ?? footprint?.bearingDeg ?? null} />
      {zones.map(
        (zone) =>
          zone.ring &&
          zone.ring.length > 2 &&
          zone.ring.every(([e, w]) => Math.hypot(e, w) < reachM * 1.02) && (
            <ZonePath key={zone.name} kind={zone.kind} prefix={prefix} d={pathOf(zone.ring.map(at), true)} />
          ),
      )}
      {footprint && (
        <path
          data-part="footprint"
          d={pathOf(footprint.ring.map(at), true)}
          fill={filled(prefix, 'light')}
          stroke="var(--ink)"
          strokeDasharray="4 2.5"
        />
      )}
      {leanBearingDeg !== null && (
        <>
          <Line
            from={polar(cx, cy, 5, leanBearingDeg)}
            to={polar(cx, cy, R - 1, leanBearingDeg)}
            tone="accent"
            width={1.5}
          />
          <Words {...leanWordAt(cx, cy, leanBearingDeg)} anchor="middle" size={11} tone="accent" firm halo>
            lean
          </Words>
        </>
      )}
      <circle cx={n(cx)} cy={n(cy)} r={4} fill="var(--leaf)" stroke="var(--ink)" strokeWidth={1.4} />
      <Names zones={zones} cx={cx} cy={cy} r={outer + 7} />
    </Picture>
  )
}

const leanWordAt = (cx: number, cy: number, leanDeg: number) => {
  const [x, y] = polar(cx, cy, 18, leanDeg + 180)
  return { x, y: y + 4 }
}

function DensityRing({
  density,
  cx,
  cy,
  inner,
  swell,
}: {
  density: readonly number[]
  cx: number
  cy: number
  inner: number
  swell: number
}) {
  const most = Math.max(...density, 1e-12)
  const points = density.map((value, i) =>
    polar(cx, cy, inner + (Math.max(0, value) / most) * swell, (i * 360) / density.length),
  )
  const hole = `M${n(cx + inner)} ${n(cy)}A${n(inner)} ${n(inner)} 0 1 0 ${n(cx - inner)} ${n(cy)}A${n(inner)} ${n(inner)} 0 1 0 ${n(cx + inner)} ${n(cy)}Z`
  return (
    <path
      data-part="density"
      d={pathOf(points, true) + hole}
      fillRule="evenodd"
      fill="var(--ink)"
      fillOpacity={0.16}
      stroke="var(--ink)"
      strokeWidth={1.2}
      strokeLinejoin="round"
    />
  )
}

function Compass({ cx, cy, R, quiet }: { cx: number; cy: number; R: number; quiet: number | null }) {
  const ticks = Array.from({ length: 36 }, (_, i) => {
    const long = i % 9 === 0 ? 8 : i % 3 === 0 ? 5 : 3
    return `M${polar(cx, cy, R, i * 10)
      .map(n)
      .join(' ')}L${polar(cx, cy, R - long, i * 10)
      .map(n)
      .join(' ')}`
  })
  return (
    <>
      <circle cx={n(cx)} cy={n(cy)} r={n(R)} fill="none" stroke="var(--ink-3)" strokeWidth={0.9} />
      <path d={ticks.join('')} stroke="var(--ink-3)" strokeWidth={0.8} />
      {['N', 'E', 'S', 'W'].map((word, i) => {
        const near = quiet !== null && Math.abs(((quiet - i * 90 + 540) % 360) - 180) < 35
        const [x, y] = polar(cx, cy, R - 17, i * 90)
        return near && i > 0 ? null : (
          <Words key={word} x={x} y={y + 4} anchor="middle" size={11}>
            {word}
          </Words>
        )
      })}
    </>
  )
}

/** Names beside their arcs, kept apart from one another. */
function Names({ zones, cx, cy, r }: { zones: readonly RoseZone[]; cx: number; cy: number; r: number }) {
  const placed = zones
    .filter((zone) => zone.touchingBearings.length > 0)
    .map((zone) => {
      const longest = [...zone.touchingBearings].sort(
        (a, b) => b.toDeg - b.fromDeg - (a.toDeg - a.fromDeg),
      )[0]!
      const whole = longest.toDeg - longest.fromDeg >= 359
      const middle = whole ? 45 : wrapBearing((longest.fromDeg + longest.toDeg) / 2)
      const [x, y] = polar(cx, cy, r, middle)
      return { name: zone.name, x, y: y + 4, anchor: middle > 180 ? ('end' as const) : ('start' as const) }
    })
    .sort((a, b) => a.y - b.y)
  placed.forEach((label, i) => {
    for (const other of placed.slice(0, i))
      if (other.anchor === label.anchor && label.y - other.y < 14) label.y = other.y + 14
  })
  return placed.map(({ name, x, y, anchor }) => (
    <Words key={name} x={x} y={y} anchor={anchor} tone="ink" size={11}>
      {name}
    </Words>
  ))
}
