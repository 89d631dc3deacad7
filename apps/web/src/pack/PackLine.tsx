import { type CivilDate, today } from '@underbough/model'
import { Button, KeepingState, Notice, sayDay, sayTime } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { useDayPack } from './hooks.ts'
import { sayFailed, sayMegabytes, sayProgress } from './words.ts'
import './pack.css'

/** Whether a day is on this device, on one line. The day is fetched by itself while the line is shown. */
export function PackLine({ date }: { date: CivilDate }) {
  const { organisation } = usePerson()
  const { state, fetch } = useDayPack(date, true)
  const name = date === today(organisation.timeZone) ? 'today' : sayDay(date)
  if (state.phase === 'fetching')
    return (
      <p className="pack-line">
        {`Fetching ${name}: ${sayProgress(state.progress)}`}
        <progress
          aria-label={`Fetching ${name}`}
          value={state.progress.gotBytes}
          max={state.progress.allBytes}
        />
      </p>
    )
  if (state.phase === 'kept')
    return (
      <div className="pack-line" role="status">
        <KeepingState keeping="on-this-phone">
          {`On this phone: ${name}, ${sayMegabytes(state.bytes)}, as of ${sayTime(state.at)}`}
        </KeepingState>
        {state.failed.length > 0 ? (
          <p className="pack-lacks">
            {`${sayFailed(state.failed)} did not come.`}
            <Button onPress={fetch}>Fetch the rest</Button>
          </p>
        ) : null}
      </div>
    )
  if (state.phase === 'away')
    return (
      <Notice tone="mind" title={`Not on this phone: ${name}.`}>
        The office is silent. It is fetched by itself when there is signal; until then only what is shown here
        is known.
      </Notice>
    )
  if (state.phase === 'no-room')
    return (
      <Notice tone="refused" title={`No room for ${name}.`}>
        {`It needs ${sayMegabytes(state.needBytes)}; this phone gives ${sayMegabytes(state.freeBytes)} more. What was kept before is kept. Clear a day below, or other things from the phone.`}{' '}
        <Button onPress={fetch}>Try again</Button>
      </Notice>
    )
  if (state.phase === 'cannot')
    return (
      <Notice tone="mind" title="Nothing can be kept for later at this address.">
        It does not begin with https. Ask the office for the one that does before you leave the signal.
      </Notice>
    )
  return null
}
