import type { SVGProps } from 'react'
import { MarkAt } from '../draw/mark-at.tsx'
import { Patterns } from '../draw/patterns.tsx'
import { Line, Picture, usePrefix, Words } from '../draw/picture.tsx'
import { clock, fitted, way } from '../draw/say.ts'
import { n } from '../draw/shape.ts'
import { Shapes } from '../draw/shape-view.tsx'
import { crewLineShapes } from '../marks/crews.ts'
import { cssPaint } from '../palette/paint.ts'
import { describeRoute, type RouteFacts, type RouteStop, stopSays } from './route.ts'
import { Scenery } from './scenery.tsx'

const STEP = 74
const NOW_STEP = 95
const LEFT = 8
const RIGHT = 80
export const routeWayPx = 46

/** Height of each stop on the strip, px from its top. */
export function stopPlaces(stops: readonly RouteStop[]): number[] {
  let y = 32
  return stops.map((stop, i) => {
    if (i > 0) y += stop.state === 'now' || stops[i - 1]!.state === 'now' ? NOW_STEP : STEP
    else if (stop.state === 'now') y = 52
    return y
  })
}

/** The day as a strip map for a phone: the way runs down it, marks at the trees, distances between. Words are 16 px or more. `press` gives each stop its own handlers. */
export function RouteStrip({
  letter,
  stops,
  after,
  widthPx = 390,
  press,
}: RouteFacts & { widthPx?: number; press?: (stop: RouteStop) => SVGProps<SVGGElement> }) {
  const prefix = usePrefix()
  const places = stopPlaces(stops)
  const height = (places.at(-1) ?? 20) + (stops.at(-1)?.state === 'now' ? 66 : 48) + (after ? 40 : 0)
  const kinds = stops.flatMap((stop) => stop.beside?.map((b) => b.kind) ?? [])
  return (
    <Picture
      widthPx={widthPx}
      heightPx={height}
      says={describeRoute({ letter, stops, after: after ?? null })}
      pressable={!!press}
    >
      <Patterns prefix={prefix} zones={kinds} />
      <Scenery stops={stops} places={places} left={LEFT} right={RIGHT} heightPx={height} prefix={prefix} />
      <Line from={[LEFT, 0]} to={[LEFT, height]} />
      <Line from={[RIGHT, 0]} to={[RIGHT, height]} />
      <Shapes of={crewLineShapes(`M${routeWayPx} 0V${n(height)}`, letter, cssPaint, 3)} />
      {stops.map((stop, i) => (
        <g key={stop.id}>
          {i > 0 && (
            <Words x={RIGHT + 8} y={wayPlace(stops, places, i)} size={16} tone="ink-3">
              {way(stop.wayM)}
            </Words>
          )}
          <Stop stop={stop} y={places[i]!} widthPx={widthPx} own={press?.(stop)} />
        </g>
      ))}
      {after && (
        <Words x={98} y={height - 20} size={16}>
          {after}
        </Words>
      )}
    </Picture>
  )
}

const wayPlace = (stops: readonly RouteStop[], places: readonly number[], i: number): number =>
  (places[i - 1]! + places[i]!) / 2 + (stops[i]!.state === 'now' ? 1 : stops[i - 1]!.state === 'now' ? 17 : 9)

function Stop({
  stop,
  y,
  widthPx,
  own,
}: {
  stop: RouteStop
  y: number
  widthPx: number
  own?: SVGProps<SVGGElement> | undefined
}) {
  const now = stop.state === 'now'
  const done = stop.state === 'done'
  const x = now ? 110 : 98
  const first = y + (now ? -12 : -4)
  const room = widthPx - x - 84
  const button = own && {
    role: 'button',
    tabIndex: 0,
    'aria-label': stopSays(stop),
    ...own,
    style: { cursor: 'pointer', ...own.style },
  }
  return (
    <g {...button} data-state={stop.state}>
      {own && <rect x={0} y={n(y - 28)} width={n(widthPx)} height={56} fill="transparent" />}
      {now && (
        <path
          d={`M96 ${n(y - 38)}H${n(widthPx - 18)}V${n(y + (stop.note ? 46 : 26))}H96V${n(y + 9)}L85 ${n(y)}L96 ${n(y - 9)}Z`}
          fill="var(--leaf)"
          stroke="var(--ink)"
          strokeWidth={1.5}
        />
      )}
      <MarkAt
        x={routeWayPx}
        y={y}
        risk={stop.risk}
        overdue={stop.overdue && !done}
        visited={stop.visited ?? true}
        size={1.12}
      />
      <Words x={x} y={first} size={done ? 16 : 17} tone={done ? 'ink-3' : 'ink'} firm={!done}>
        {fitted(`${stop.tag} ${stop.name}`, room, 17)}
      </Words>
      <Words x={widthPx - 32} y={first} anchor="end" size={16} tone={done ? 'ink-3' : 'ink'}>
        {clock(stop.minute)}
      </Words>
      <Words x={x} y={first + 20} size={16} tone={done ? 'ink-3' : 'ink-2'}>
        {fitted(done ? 'visited' : stop.says, done ? room : room + 50, 16)}
      </Words>
      {now && stop.note && (
        <Words x={x} y={first + 41} size={16} italic>
          {fitted(stop.note, room + 50, 16)}
        </Words>
      )}
    </g>
  )
}
