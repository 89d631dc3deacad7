import type { PlacedReading, Section } from '@underbough/wood'
import { type Point, pathOf, polar } from '../draw/geometry.ts'
import { Line, Picture, type PictureProps, usePrefix, Words } from '../draw/picture.tsx'
import { roundStep } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { describeSection, wallWords } from './describe-section.ts'
import { placeLabels, type RoundLabel, RoundLabels } from './labels.tsx'
import { WoodPatterns, woodFill } from './patterns.tsx'

const STRIP_PX = 9

/**
 * The stem seen from above, north up, to scale. Firm wood is drawn only as far as the readings bear it: the median wall with a firm inner
 * line and the 5 % wall with a broken one from six readings on, the 5 % wall alone from four, none below that. What nobody read is hatched.
 * Every reading lies where the instrument went.
 */
export function StemSection({ section, widthPx = 380, textScale = 1 }: PictureProps & { section: Section }) {
  const prefix = usePrefix()
  const { outline, stepDeg, wallCm } = section
  const most = Math.max(...outline.outerCm)
  const margin = 66 * textScale
  const c = widthPx / 2
  const k = Math.max(20, c - margin) / most
  const linePx = 14 * textScale
  const cy = most * k + 14 + 2 * linePx
  const heightPx = 2 * cy + 14
  const at = (bearing: number, cm: number): Point => polar(c, cy, Math.max(0, cm) * k, bearing)
  const plane = ([east, north]: readonly [number, number]): Point => [c + east * k, cy - north * k]
  const ring = (radii: readonly number[]): Point[] => radii.map((cm, i) => at(i * stepDeg, cm))
  const inner = (wall: readonly number[]) => outline.woodCm.map((wood, i) => Math.max(0, wood - wall[i]!))
  const drawn = wallCm ? (wallCm.median ?? wallCm.cautious) : null
  const wood = ring(outline.woodCm)
  const firm = drawn && `${pathOf(wood, true)}${pathOf([...ring(inner(drawn))].reverse(), true)}`
  return (
    <Picture widthPx={widthPx} heightPx={heightPx} says={describeSection(section)} textScale={textScale}>
      <WoodPatterns prefix={prefix} />
      {firm && (
        <clipPath id={`${prefix}-wall`}>
          <path d={firm} clipRule="evenodd" />
        </clipPath>
      )}
      <path
        d={pathOf(ring(outline.outerCm), true)}
        fill="var(--wood-bark)"
        stroke="var(--ink-3)"
        strokeWidth={0.8}
      />
      <path
        data-part="unread"
        d={pathOf(wood, true)}
        fill={woodFill(prefix, 'unread')}
        stroke="var(--ink)"
        strokeWidth={1.4}
      />
      {firm && drawn && (
        <>
          <path
            data-part="firm"
            d={firm}
            fillRule="evenodd"
            fill="var(--wood-sound)"
            fillOpacity={section.says === 'figures' ? 1 : 0.45}
          />
          <g
            clipPath={`url(#${prefix}-wall)`}
            fill="none"
            stroke="var(--wood-line)"
            strokeWidth={0.5}
            opacity={0.5}
          >
            {Array.from({ length: Math.floor(Math.max(...drawn) / ringStep(most)) }, (_, i) => (
              <path
                key={i}
                d={pathOf(ring(outline.woodCm.map((cm) => cm - ringStep(most) * (i + 1))), true)}
              />
            ))}
          </g>
          <path d={pathOf(wood, true)} fill="none" stroke="var(--ink)" strokeWidth={1.4} />
        </>
      )}
      {wallCm?.median && (
        <path
          data-part="median"
          d={pathOf(ring(inner(wallCm.median)), true)}
          fill="none"
          stroke="var(--ink)"
          strokeWidth={1.5}
        />
      )}
      {wallCm && (
        <path
          data-part="cautious"
          d={pathOf(ring(inner(wallCm.cautious)), true)}
          fill="none"
          stroke="var(--ink)"
          strokeWidth={1.4}
          strokeDasharray="5 3"
        />
      )}
      <Openings section={section} at={at} drawn={drawn} />
      {section.readings.map((reading) => (
        <Strip key={`${reading.probeId}-${reading.label}`} reading={reading} plane={plane} prefix={prefix} />
      ))}
      <Weakest section={section} plane={plane} reachPx={most * k} />
      <NorthAndScale k={k} mostCm={most} heightPx={heightPx} textScale={textScale} />
      <RoundLabels
        linePx={linePx}
        labels={placeLabels(
          labelsOf(section, at, plane, most * k, linePx),
          { middleX: c, top: 2, bottom: heightPx - linePx - 8, left: 2, right: widthPx - 2 },
          linePx,
        )}
      />
    </Picture>
  )
}

/** Growth rings are drawn for the eye, at a distance that keeps them apart. */
const ringStep = (radiusCm: number) => Math.max(1, radiusCm / 30)

function Openings({
  section,
  at,
  drawn,
}: {
  section: Section
  at: (bearing: number, cm: number) => Point
  drawn: readonly number[] | null
}) {
  const { outline, stepDeg } = section
  const of = (list: readonly number[], bearing: number) =>
    list[Math.round((((bearing % 360) + 360) % 360) / stepDeg) % list.length]!
  return section.openings.map((opening) => {
    const to = opening.fromBearingDeg + opening.widthDeg
    const bearings: number[] = []
    for (let b = opening.fromBearingDeg; b < to; b += stepDeg) bearings.push(b)
    bearings.push(to)
    const outside = (b: number) => of(outline.outerCm, b) + 0.6
    const depth = opening.depthCm ?? 4
    const floor = (b: number) =>
      Math.max(
        of(outline.outerCm, b) - depth,
        opening.complete && drawn ? of(outline.woodCm, b) - of(drawn, b) - 0.4 : 0,
      )
    const shape = [
      ...bearings.map((b) => at(b, outside(b))),
      ...[...bearings].reverse().map((b) => at(b, floor(b))),
    ]
    return (
      <g key={opening.probeId} data-part="opening">
        <path d={pathOf(shape, true)} fill="var(--paper)" />
        {[opening.fromBearingDeg, to].map((b) => (
          <Line
            key={b}
            from={at(b, floor(b))}
            to={at(b, outside(b))}
            width={1.8}
            dash={opening.edgeWallsCm ? undefined : '3 2'}
          />
        ))}
        {(!opening.complete || !drawn || depth < of(drawn, opening.fromBearingDeg)) && (
          <path
            d={pathOf(bearings.map((b) => at(b, floor(b))))}
            fill="none"
            stroke="var(--ink)"
            strokeDasharray={opening.depthCm === null ? '3 2' : undefined}
          />
        )}
      </g>
    )
  })
}

function Strip({
  reading,
  plane,
  prefix,
}: {
  reading: PlacedReading
  plane: (point: readonly [number, number]) => Point
  prefix: string
}) {
  const segments = reading.segments.filter(
    (one, i) => one.condition !== 'unread' || i < reading.segments.length - 1,
  )
  const end = segments.at(-1)
  return (
    <g data-part="reading">
      {segments.map((one) => {
        const [x0, y0] = plane(one.from)
        const [x1, y1] = plane(one.to)
        const length = Math.hypot(x1 - x0, y1 - y0)
        if (length < 0.3) return null
        const angle = (Math.atan2(y1 - y0, x1 - x0) * 180) / Math.PI
        return (
          <rect
            key={`${n(x0)} ${n(y0)}`}
            data-condition={one.condition}
            width={n(length)}
            height={STRIP_PX}
            transform={`translate(${n(x0)} ${n(y0)}) rotate(${n(angle)}) translate(0 ${-STRIP_PX / 2})`}
            fill={woodFill(prefix, one.condition)}
            stroke="var(--ink)"
            strokeWidth={0.9}
          />
        )
      })}
      {reading.censored && end && <OpenEnd from={plane(end.from)} to={plane(end.to)} />}
    </g>
  )
}

/** Two points beyond the end of a reading that stopped in firm wood: it goes on, nobody knows how far. */
function OpenEnd({ from, to }: { from: Point; to: Point }) {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1
  const [dx, dy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length]
  const h = STRIP_PX / 2 + 2
  return (
    <path
      data-part="open-end"
      d={`M${n(to[0] + dx * 2 - dy * h)} ${n(to[1] + dy * 2 + dx * h)}L${n(to[0] + dx * 8)} ${n(to[1] + dy * 8)}L${n(to[0] + dx * 2 + dy * h)} ${n(to[1] + dy * 2 - dx * h)}`}
      fill="none"
      stroke="var(--ink)"
      strokeWidth={1.6}
      strokeLinejoin="round"
    />
  )
}

/** Which of the two opposite bearings the arrow points to: the one farther from any reading. */
const weakestArrow = (section: Section): number | null => {
  const { weakestBearingDeg: bearing } = section
  if (bearing === null) return null
  const room = (b: number) =>
    Math.min(...section.readings.map((one) => Math.abs(((one.bearingDeg - b + 540) % 360) - 180)))
  return room(bearing) >= room(bearing + 180) ? bearing : bearing + 180
}

function Weakest({
  section,
  plane,
  reachPx,
}: {
  section: Section
  plane: (point: readonly [number, number]) => Point
  reachPx: number
}) {
  const bearing = weakestArrow(section)
  if (bearing === null || !section.centroid) return null
  const [x, y] = plane(section.centroid)
  const [hx, hy] = polar(x, y, reachPx + 8, bearing)
  return (
    <g data-part="weakest">
      <Line from={polar(x, y, -(reachPx * 0.9), bearing)} to={[hx, hy]} tone="accent" width={1.6} />
      <path
        d="M0 0L-4 9H4Z"
        fill="var(--accent)"
        transform={`translate(${n(hx)} ${n(hy)}) rotate(${n(bearing)})`}
      />
      <path
        d={`M${n(x - 4)} ${n(y)}H${n(x + 4)}M${n(x)} ${n(y - 4)}V${n(y + 4)}`}
        stroke="var(--accent)"
        strokeWidth={1.6}
      />
    </g>
  )
}

function NorthAndScale({
  k,
  mostCm,
  heightPx,
  textScale,
}: {
  k: number
  mostCm: number
  heightPx: number
  textScale: number
}) {
  const bar = roundStep(mostCm / 4)
  const y = heightPx - 6
  return (
    <>
      <path d="M14 42V20M10 27L14 19L18 27" fill="none" stroke="var(--ink)" strokeWidth={1.2} />
      <Words x={14} y={13} anchor="middle" tone="ink" firm size={12 / Math.max(1, textScale * 0.9)}>
        N
      </Words>
      <path
        d={`M6 ${n(y - 4)}V${n(y)}H${n(6 + bar * k)}V${n(y - 4)}M${n(6 + (bar * k) / 2)} ${n(y - 3)}V${n(y)}`}
        fill="none"
        stroke="var(--ink)"
        strokeWidth={1.3}
      />
      <Words x={12 + bar * k} y={y} size={11}>
        {`${bar} cm`}
      </Words>
    </>
  )
}

function labelsOf(
  section: Section,
  at: (bearing: number, cm: number) => Point,
  plane: (point: readonly [number, number]) => Point,
  reachPx: number,
  linePx: number,
): RoundLabel[] {
  const most = Math.max(...section.outline.outerCm)
  /** Two lines high: over and under the stem a label stands clear of it by its height. */
  const outside = (bearing: number): Point => {
    const [x, y] = at(bearing, most + (11 * most) / reachPx)
    return [x, y - linePx * Math.cos((bearing * Math.PI) / 180)]
  }
  const labels: RoundLabel[] = section.readings.map((one) => {
    const bearing = (Math.atan2(one.entry[0], one.entry[1]) * 180) / Math.PI
    const [x, y] = outside(bearing)
    return {
      from: plane(one.entry),
      x,
      y,
      lines: [{ text: one.label, firm: true }, { text: wallWords(one) }],
    }
  })
  for (const one of section.openings) {
    const middle = one.fromBearingDeg + one.widthDeg / 2
    const [x, y] = outside(middle)
    labels.push({
      from: at(middle, most * 0.97),
      x,
      y,
      lines: [
        { text: 'opening', italic: true },
        { text: `${Math.round(one.fromBearingDeg)}° to ${Math.round(one.toBearingDeg)}°` },
      ],
    })
  }
  const arrow = weakestArrow(section)
  if (arrow !== null && section.centroid) {
    const [cx, cy] = plane(section.centroid)
    const tip = polar(cx, cy, reachPx + 8, arrow)
    const [x, y] = polar(tip[0], tip[1], 4, arrow)
    labels.push({
      from: tip,
      x,
      y,
      lines: [
        { text: 'weakest on', firm: true, tone: 'accent' },
        {
          text: `${Math.round(arrow % 180)}° and ${Math.round(arrow % 180) + 180}°`,
          firm: true,
          tone: 'accent',
        },
      ],
    })
  }
  return labels
}
