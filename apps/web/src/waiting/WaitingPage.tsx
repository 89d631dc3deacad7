import type { KeptEntry } from '@underbough/field'
import { useState } from 'react'
import { device, namesOf, sendNow, useKeepState, useLive } from '../keep/index.ts'
import { Button, count, Empty, KeepingState, Notice, sayTime } from '../look/index.ts'
import { useKeeping, usePerson } from '../shell/index.ts'
import { EntryLine } from './EntryLine.tsx'
import { RoomPart } from './RoomPart.tsx'
import { rescueFile } from './rescue.ts'
import './waiting.css'

interface Waiting {
  entries: readonly KeptEntry[]
  bytes: ReadonlyMap<string, number>
}
const nothing: Waiting = { entries: [], bytes: new Map() }

async function waitingHere(): Promise<Waiting> {
  const entries = await device.entries.orderBy('seq').toArray()
  const bytes = new Map<string, number>()
  await device.files.each(({ sha256, file }) => void bytes.set(sha256, file.size))
  return { entries, bytes }
}

/** What this device keeps that the office has not got: whose it is, why it is here, and what can be done. */
export default function WaitingPage() {
  const me = usePerson()
  const { entries, bytes } = useLive('all that waits', waitingHere, nothing)
  const unsent = entries.filter(({ state }) => state !== 'sent')
  const mine = unsent.filter(({ authorId }) => authorId === me.personId)
  const others = unsent.filter(({ authorId }) => authorId !== me.personId)
  const isOffice = me.role === 'officer' || me.role === 'manager'
  return (
    <div className="page waiting-page">
      <h1 tabIndex={-1}>Not at the office yet</h1>
      <SendingLine any={unsent.length > 0} />
      {mine.length === 0 ? (
        <Empty title="Nothing of yours waits here.">What you entered on this device is at the office.</Empty>
      ) : (
        <ol className="waiting-list">
          {mine.map((entry) => (
            <EntryLine key={entry.key} entry={entry} all={entries} bytes={bytes} />
          ))}
        </ol>
      )}
      {others.length > 0 ? <OthersPart others={others} maySend={isOffice} /> : null}
      <RescuePart entries={isOffice ? unsent : mine} />
      <RoomPart />
    </div>
  )
}

function SendingLine({ any }: { any: boolean }) {
  const { sending, signedOut, nextTryAt, metAt } = useKeepState()
  const { online } = useKeeping()
  if (!any) return null
  const words = sending
    ? 'Sending.'
    : signedOut
      ? 'Nobody is signed in at the office. Sign in to send; what is here stays.'
      : !online
        ? 'No signal. It goes by itself when there is.'
        : `${metAt === null ? 'The office has not answered yet.' : `The office last answered at ${sayTime(metAt)}.`}${
            nextTryAt === null ? '' : ` Next try at ${sayTime(nextTryAt)}.`
          }`
  return (
    <div className="waiting-line">
      <p role="status">{words}</p>
      <Button kind="do" isDisabled={sending} onPress={() => void sendNow()}>
        Send now
      </Button>
    </div>
  )
}

/** Other people's entries are counted and never shown: they go when their person signs in, or by an officer's hand. */
function OthersPart({ others, maySend }: { others: readonly KeptEntry[]; maySend: boolean }) {
  const authorIds = [...new Set(others.map(({ authorId }) => authorId))].sort()
  const names = useLive<Record<string, string>>(authorIds.join(' '), () => namesOf(authorIds), {})
  const { sending } = useKeepState()
  return (
    <section className="waiting-others" aria-label="Other people’s entries">
      <h2>Of other people</h2>
      {authorIds.map((authorId) => {
        const name = names[authorId] ?? 'somebody else'
        const theirs = others.filter((one) => one.authorId === authorId).length
        return (
          <div key={authorId} className="waiting-other">
            <p>
              <KeepingState keeping="on-this-phone">
                {count(theirs, 'entry', 'entries')} of {name} {theirs === 1 ? 'waits' : 'wait'} here.
              </KeepingState>{' '}
              {theirs === 1 ? 'It goes' : 'They go'} when the author signs in here.
            </p>
            {maySend ? (
              <Button isDisabled={sending} onPress={() => void sendNow({ others: [authorId] })}>
                Send {theirs === 1 ? 'it' : 'them'} as {name}’s
              </Button>
            ) : null}
          </div>
        )
      })}
    </section>
  )
}

function RescuePart({ entries }: { entries: readonly KeptEntry[] }) {
  const [failed, setFailed] = useState(false)
  if (entries.length === 0) return null
  const save = async () => {
    try {
      const url = URL.createObjectURL(await rescueFile(entries, new Date()))
      const link = document.createElement('a')
      link.href = url
      link.download = `underbough-waiting-${new Date().toISOString().slice(0, 10)}.json`
      link.click()
      setTimeout(() => URL.revokeObjectURL(url), 60_000)
    } catch {
      setFailed(true)
    }
  }
  return (
    <section className="waiting-rescue" aria-label="Save what waits">
      <h2>If this device cannot send</h2>
      <p>
        Everything that waits, photos with all their bytes, can be saved as one file and carried to the
        office. It stays here as well.
      </p>
      <Button onPress={() => void save()}>Save what waits as a file</Button>
      {failed ? (
        <Notice tone="refused" title="The file was not made.">
          There may be no room for it. What waits is still here.
        </Notice>
      ) : null}
    </section>
  )
}
