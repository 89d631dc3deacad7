import type { KeptEntry } from '@underbough/field'
import { useState } from 'react'
import { device, refusalOfKeeping, sendNow } from '../keep/index.ts'
import { Button, Dialog, KeepingState, LinkButton, Notice, sayDay, sayTime } from '../look/index.ts'
import { sayBytes } from '../photos/index.ts'
import { isOpenedAgain, takeBack, withIt } from './takeBack.ts'
import { kindWords, placeOf, whyHere } from './words.ts'

interface Props {
  entry: KeptEntry
  all: readonly KeptEntry[]
  /** Bytes of the files on this device, by digest. */
  bytes: ReadonlyMap<string, number>
}

/** One entry that waits: what it is, since when, how large, why, and what its person can do. */
export function EntryLine({ entry, all, bytes }: Props) {
  const [asking, setAsking] = useState(false)
  const { kind, state, label, madeAt, refusals, body } = entry
  const place = placeOf(entry)
  const size = JSON.stringify(body).length + (bytes.get((body as { sha256?: string })?.sha256 ?? '') ?? 0)
  return (
    <li className={`waiting-entry waiting-${state}`}>
      <p>
        <b>{label}</b>
      </p>
      <p className="waiting-state">
        <KeepingState keeping={state === 'refused' ? 'not-kept' : 'on-this-phone'}>
          {state === 'refused' ? 'Refused' : 'On this phone'}
        </KeepingState>
        <span className="q">
          {kindWords[kind]}, {sayDay(madeAt.slice(0, 10))} at {sayTime(madeAt)}, {sayBytes(size)}
        </span>
      </p>
      <p>{whyHere(entry, all, Date.now())}</p>
      {state === 'refused' ? (
        <ul className="waiting-reasons">
          {refusals.map((one) => (
            <li key={`${one.code} ${one.path}`}>{one.message}</li>
          ))}
        </ul>
      ) : null}
      <div className="row wrap">
        {place ? (
          <LinkButton kind={state === 'refused' ? 'do' : 'plain'} to={place.to}>
            {place.words}
          </LinkButton>
        ) : null}
        <Button kind="quiet" onPress={() => void sendAgain(entry)}>
          Send again now
        </Button>
        <Button kind="quiet" aria-label={`Take back: ${label}`} onPress={() => setAsking(true)}>
          Take back
        </Button>
      </div>
      {asking ? <TakeBackDialog entry={entry} all={all} onClose={() => setAsking(false)} /> : null}
    </li>
  )
}

/** As it is: what was refused may be taken now that something else has changed at the office. */
async function sendAgain({ key }: KeptEntry): Promise<void> {
  await device.entries.where({ key }).modify({ state: 'waiting', nextTryAt: 0 })
  await sendNow()
}

function TakeBackDialog({
  entry,
  all,
  onClose,
}: {
  entry: KeptEntry
  all: readonly KeptEntry[]
  onClose(): void
}) {
  const [failed, setFailed] = useState('')
  const opens = isOpenedAgain(entry)
  const more = withIt(entry, all).length - 1
  const take = () =>
    takeBack(entry).then(onClose, (error) => setFailed(refusalOfKeeping(error, 'this').message))
  return (
    <Dialog
      title={opens ? 'Take it back and go on with it?' : 'Take it back?'}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button kind="do" onPress={() => void take()}>
            {opens ? 'Take it back' : 'Take it off this device'}
          </Button>
          <Button onPress={onClose}>Leave it</Button>
        </>
      }
    >
      <p>
        <b>{entry.label}</b>
      </p>
      <p>
        {opens
          ? 'It is a draft again on this device and is not sent until you hand it in anew.'
          : 'It is nowhere else: the office has not got it. Save what waits as a file first if you may need it.'}
      </p>
      {more > 0 && !opens ? (
        <p>{more === 1 ? 'One entry that stands' : `${more} entries that stand`} on it go with it.</p>
      ) : null}
      {failed ? <Notice tone="refused">{failed}</Notice> : null}
    </Dialog>
  )
}
