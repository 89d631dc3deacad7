import { CrewWay, TreeMark } from '@underbough/pictures'
import { Button as AriaButton } from 'react-aria-components/Button'
import { Link } from 'react-router'
import type { Stop } from '../api/index.ts'
import { KeepingState } from '../look/index.ts'
import type { Here } from './dayHere.ts'
import { clock, hasEndedStop, sayStop, sayWay, sayWhence } from './facts.ts'

export interface StopListProps {
  here: Here
  now: Stop | null
  /** Minutes after midnight at which the light ends; null where it does not. */
  lightMinute: number | null
  onChoose(stopId: string): void
}

/** The day as a strip: the way runs down it, a mark at each tree, the distance between. A press makes an open stop the next one. */
export function StopList({ here, now, lightMinute, onChoose }: StopListProps) {
  const { daySheet, crew } = here.whole
  return (
    <ol className="strip" aria-label="Stops in order">
      {daySheet.stops.map((stop) => (
        <li key={stop.id} className={rowClass(stop, now)}>
          <span className="strip-way" aria-hidden="true">
            <CrewWay letter={crew.letter} />
            <TreeMark
              risk={stop.tree.risk}
              overdue={stop.tree.overdueDays > 0 && !hasEndedStop(stop)}
              visited={stop.tree.seen}
              status={stop.tree.status}
              boxPx={36}
              hidden
            />
          </span>
          <span className="strip-between">{sayWay(stop.travelM)}</span>
          <AriaButton
            className="strip-stop"
            isDisabled={hasEndedStop(stop)}
            aria-current={stop.id === now?.id ? 'step' : undefined}
            onPress={() => onChoose(stop.id)}
          >
            <span className="strip-name">
              <b>{`${stop.tree.tag} ${stop.tree.commonName ?? stop.tree.species}`}</b>
              <span>{clock(stop.arriveMinute)}</span>
            </span>
            <span>{sayStop(stop)}</span>
            {sayWhence(stop) ? <span>{sayWhence(stop)}</span> : null}
            {!hasEndedStop(stop) && lightMinute !== null && stop.leaveMinute > lightMinute ? (
              <span className="strip-dark">after the light</span>
            ) : null}
          </AriaButton>
          <StopStanding stop={stop} here={here} />
        </li>
      ))}
      <li className="strip-row strip-end">
        <span className="strip-way" aria-hidden="true">
          <CrewWay letter={crew.letter} />
        </span>
        <span className="strip-between">{`back by ${clock(daySheet.endMinute)}`}</span>
      </li>
    </ol>
  )
}

const rowClass = (stop: Stop, now: Stop | null) =>
  `strip-row ${hasEndedStop(stop) ? 'strip-done' : stop.id === now?.id ? 'strip-now' : ''}`

/** Where what was entered about a stop is; nothing for a stop that nobody has touched. */
function StopStanding({ stop, here }: { stop: Stop; here: Here }) {
  if (here.refused.has(stop.id))
    return (
      <Link className="strip-standing strip-refused" to="/waiting">
        The office said no: see why
      </Link>
    )
  if (here.waiting.has(stop.id))
    return (
      <span className="strip-standing">
        <KeepingState keeping="on-this-phone">On this phone</KeepingState>
      </span>
    )
  if (!hasEndedStop(stop)) return null
  return (
    <span className="strip-standing">
      <KeepingState keeping="in-the-office">At the office</KeepingState>
    </span>
  )
}
