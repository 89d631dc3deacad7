import { geoAddress } from '@underbough/exchange/gpx'
import { compassWord, TreeMark } from '@underbough/pictures'
import type { Stop } from '../api/index.ts'
import { Button } from '../look/index.ts'
import { clock, sayStop, sayWhence } from './facts.ts'

import type { useFix } from './useFix.ts'
import { isThere, sayWayThere, wayThere } from './where.ts'

/** The stop to go to, large: which tree, what for, and where it is from here. */
export function NextStop({
  stop,
  position,
  lightMinute,
}: {
  stop: Stop
  position: ReturnType<typeof useFix>
  lightMinute: number | null
}) {
  const { tree } = stop
  const whence = sayWhence(stop)
  return (
    <article className="next-stop" aria-label="The next stop">
      <div className="next-stop-name">
        <TreeMark
          risk={tree.risk}
          overdue={tree.overdueDays > 0}
          visited={tree.seen}
          status={tree.status}
          boxPx={44}
        />
        <div>
          <h2>
            {tree.tag} <b>{tree.commonName ?? tree.species}</b>
          </h2>
          <p>
            {sayStop(stop)}
            <span className="next-stop-clock">{clock(stop.arriveMinute)}</span>
          </p>
        </div>
      </div>
      {whence ? <p>{whence}</p> : tree.due ? <p className="next-stop-why">{tree.due.reason}</p> : null}
      {lightMinute !== null && stop.leaveMinute > lightMinute ? (
        <p className="next-stop-dark">Planned until after the light ends at {clock(lightMinute)}.</p>
      ) : null}
      <Where stop={stop} position={position} />
      <a className="press press-quiet next-stop-geo" href={geoAddress(tree.position)}>
        Open in the phone’s map
      </a>
    </article>
  )
}

function Where({
  stop,
  position: { whereabouts, start },
}: {
  stop: Stop
  position: ReturnType<typeof useFix>
}) {
  if (whereabouts.state === 'off')
    return (
      <Button onPress={start} className="next-stop-ask">
        Show how far it is from here
      </Button>
    )
  if (whereabouts.state === 'asking')
    return (
      <p className="q" role="status">
        Asking the phone where it is.
      </p>
    )
  if (whereabouts.state !== 'here')
    return (
      <p className="q">
        {whereabouts.state === 'refused'
          ? 'The phone may not say where it is, so no distance is shown. Allow it in the browser’s settings of this page; everything else works as before.'
          : 'The phone cannot tell where it is now. It is asked again by itself.'}
      </p>
    )
  const { fix } = whereabouts
  const way = wayThere(fix.position, stop.tree.position)
  const there = isThere(way, fix)
  return (
    <div className="next-stop-where">
      {there ? null : <Arrow bearingDeg={way.bearingDeg} />}
      <p>
        <b>{sayWayThere(way, fix)}</b>
        <span className="q">
          {`${there ? '' : 'Straight line, north up. '}The phone’s place is good to ${Math.max(1, Math.round(fix.accuracyM))} m.`}
        </span>
      </p>
    </div>
  )
}

/** Points to the bearing with north up; it does not follow how the phone is held. */
function Arrow({ bearingDeg }: { bearingDeg: number }) {
  return (
    <svg
      viewBox="-28 -28 56 56"
      width="56"
      height="56"
      role="img"
      aria-label={`To the ${compassWord(bearingDeg)}, north is up`}
    >
      <circle r="26" fill="none" stroke="var(--edge)" strokeWidth="1.5" />
      <path d="M0 -26V-20" stroke="var(--ink)" strokeWidth="3" />
      <path d="M0 -18L9 12L0 6L-9 12Z" fill="var(--ink)" transform={`rotate(${Math.round(bearingDeg)})`} />
    </svg>
  )
}
