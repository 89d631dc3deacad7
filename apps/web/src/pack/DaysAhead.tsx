import { Button, count, KeepingState, sayDay, sayTime } from '../look/index.ts'
import { type DayAhead, useDayPack, useDaysAhead } from './hooks.ts'
import { sayFailed, sayMegabytes, sayProgress } from './words.ts'
import './pack.css'

/** The issued days of the week ahead, each to be put on this device before the signal ends. Nothing where there are none. */
export function DaysAhead() {
  const days = useDaysAhead()
  if (days.length === 0) return null
  return (
    <section className="days-ahead" aria-labelledby="days-ahead">
      <h2 id="days-ahead">Days ahead</h2>
      <ul>
        {days.map((day) => (
          <li key={day.date}>
            <KeepDay day={day} />
          </li>
        ))}
      </ul>
    </section>
  )
}

function KeepDay({ day }: { day: DayAhead }) {
  const { state, fetch, drop } = useDayPack(day.date)
  const name = sayDay(day.date)
  return (
    <>
      <div className="days-ahead-words">
        <b>{name}</b>
        <span className="q">{`${count(day.trees, 'tree')}, about ${sayMegabytes(day.bytes)}`}</span>
        {state.phase === 'kept' ? (
          <KeepingState keeping="on-this-phone">{`On this phone, as of ${sayTime(state.at)}`}</KeepingState>
        ) : null}
        {state.phase === 'kept' && state.failed.length > 0 ? (
          <span>{`${sayFailed(state.failed)} did not come.`}</span>
        ) : null}
        {state.phase === 'fetching' ? <span>{sayProgress(state.progress)}</span> : null}
        {state.phase === 'no-room' ? (
          <span role="alert">{`No room: it needs ${sayMegabytes(state.needBytes)}, this phone gives ${sayMegabytes(state.freeBytes)} more.`}</span>
        ) : null}
        {state.phase === 'away' ? <span>The office is silent. Try again with signal.</span> : null}
      </div>
      {state.phase === 'kept' && state.failed.length === 0 ? (
        <Button aria-label={`Clear ${name} from this phone`} onPress={drop}>
          Clear
        </Button>
      ) : (
        <Button
          aria-label={`Put ${name} on this phone`}
          isDisabled={state.phase === 'fetching'}
          onPress={fetch}
        >
          {state.phase === 'kept' ? 'Fetch the rest' : 'Put on this phone'}
        </Button>
      )}
    </>
  )
}
