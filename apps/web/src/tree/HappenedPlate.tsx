import { type ScenarioPart, scenarioParts, type UrgentNote } from '@underbough/model'
import { type EventKind, eventKinds } from '@underbough/rating'
import { useState } from 'react'
import { refusalsOf, type TreeWhole } from '../api/index.ts'
import {
  Button,
  count,
  Dialog,
  Empty,
  Field,
  NumberField,
  Plate,
  Refusals,
  refusalAt,
  Select,
  sayDate,
  sayTime,
  Tick,
} from '../look/index.ts'
import { mayChange, usePerson } from '../shell/index.ts'
import { AcknowledgeDialog, sayTold } from '../urgent/index.ts'
import { eventName } from './facts.ts'
import { useAddEvent, useAddFailure, usePolicy } from './hooks.ts'

const partNames: Record<ScenarioPart, string> = {
  'whole-tree': 'The whole tree',
  stem: 'The stem',
  limb: 'A limb',
}

/** Urgent notes, what broke, and what asks for an earlier look. */
export function HappenedPlate({ no, whole, today }: { no: number; whole: TreeWhole; today: string }) {
  const [adding, setAdding] = useState<'event' | 'failure' | null>(null)
  const { role } = usePerson()
  const [asked, setAsked] = useState<UrgentNote | null>(null)
  const { urgentNotes, failures, events } = whole
  // An answer kept on a device by an earlier version has none.
  const walkOvers = whole.walkOvers ?? []
  const none = urgentNotes.length + failures.length + events.length + walkOvers.length === 0
  return (
    <Plate no={no} title="What happened" className="wide">
      {none ? (
        <Empty title="Nothing so far.">
          A gust, digging near the roots, a complaint or a break stands here.
        </Empty>
      ) : (
        <ul className="tree-list">
          {urgentNotes.map((note) => (
            <li key={note.id} className="tree-work">
              <div>
                <p className="prose">
                  <b>Urgent note, {sayDate(note.writtenAt.slice(0, 10))}.</b>{' '}
                  {note.keptOut ? 'People kept out.' : 'People not kept out.'} Told: {sayTold(note)} at{' '}
                  {sayTime(note.toldAt)}. {note.interimClosure}
                </p>
                <p className="s q">
                  {note.personName}.{' '}
                  {note.acknowledgedBy
                    ? `Acknowledged by ${note.acknowledgedBy}${note.whatWasDone ? `: ${note.whatWasDone}` : ''}.`
                    : 'Nobody has acknowledged it.'}
                </p>
              </div>
              {note.acknowledgedBy || !mayChange(role) ? null : (
                <Button onPress={() => setAsked(note)}>Acknowledge</Button>
              )}
            </li>
          ))}
          {failures.map((failure) => (
            <li key={failure.id}>
              <p className="prose">
                <b>
                  {failure.nearMiss ? 'Near miss' : 'Break'}, {sayDate(failure.on)}:{' '}
                  {partNames[failure.part].toLowerCase()}.
                </b>{' '}
                {failure.hit ? `It hit ${failure.hit}. ` : 'It hit nothing. '}
                {failure.gustMps === null ? '' : `Gust ${failure.gustMps} m/s. `}
                {failure.note}
              </p>
            </li>
          ))}
          {events.map((event) => (
            <li key={event.id}>
              <p className="prose">
                <b>
                  {eventName(event.kind)}, {sayDate(event.on)}.
                </b>{' '}
                Look within {count(event.lookWithinDays, 'day')}. {event.note}
              </p>
            </li>
          ))}
          {walkOvers.map((walk) => (
            <li key={walk.id}>
              <p className="prose">
                <b>Walked over, {sayDate(walk.on)}.</b> A limited look with all trees of {walk.zoneName}, by{' '}
                {walk.personName}. {walk.note || 'No note on this one.'}
              </p>
            </li>
          ))}
        </ul>
      )}
      {role === 'client' ? null : (
        <div className="row c wrap tree-more">
          <Button kind="quiet" onPress={() => setAdding('event')}>
            Something happened near it
          </Button>
          <Button kind="quiet" onPress={() => setAdding('failure')}>
            It broke, or nearly
          </Button>
        </div>
      )}
      {asked ? <AcknowledgeDialog note={asked} tree={whole.tree} onClose={() => setAsked(null)} /> : null}
      {adding === 'event' ? (
        <EventForm treeId={whole.tree.id} today={today} onClose={() => setAdding(null)} />
      ) : null}
      {adding === 'failure' ? (
        <FailureForm treeId={whole.tree.id} today={today} onClose={() => setAdding(null)} />
      ) : null}
    </Plate>
  )
}

function EventForm({ treeId, today, onClose }: { treeId: string; today: string; onClose(): void }) {
  const [id] = useState(() => crypto.randomUUID())
  const [kind, setKind] = useState<EventKind>('gust')
  const [on, setOn] = useState(today)
  const [within, setWithin] = useState<number | null>(null)
  const [note, setNote] = useState('')
  const policy = usePolicy()
  const add = useAddEvent(treeId)
  const refusals = refusalsOf(add.error)
  const usual = policy.data?.events[kind].withinDays
  return (
    <Dialog
      title="Something happened near it"
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={add.isPending || on === ''}
            onPress={() =>
              add.mutate({ id, kind, on, lookWithinDays: within, note: note.trim() }, { onSuccess: onClose })
            }
          >
            Keep
          </Button>
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <Select
        label="What"
        value={kind}
        options={eventKinds.map((value) => ({ value, label: eventName(value) }))}
        onChange={(word) => setKind(word)}
      />
      <Field label="On" type="date" value={on} onChange={setOn} refusal={refusalAt(refusals, 'on')} />
      <NumberField
        label="Look within"
        unit="days"
        value={within}
        onChange={setWithin}
        refusal={refusalAt(refusals, 'lookWithinDays')}
        hint={usual === undefined ? undefined : `Empty: ${count(usual, 'day')}, as the policy says`}
      />
      <Field label="Note" multiline value={note} onChange={setNote} />
      <Refusals title="It was not kept." refusals={refusals} kept="The tree’s date stands as it was." />
    </Dialog>
  )
}

function FailureForm({ treeId, today, onClose }: { treeId: string; today: string; onClose(): void }) {
  const [id] = useState(() => crypto.randomUUID())
  const [on, setOn] = useState(today)
  const [part, setPart] = useState<ScenarioPart>('limb')
  const [gustMps, setGust] = useState<number | null>(null)
  const [hit, setHit] = useState('')
  const [nearMiss, setNearMiss] = useState(false)
  const [note, setNote] = useState('')
  const add = useAddFailure()
  const refusals = refusalsOf(add.error)
  return (
    <Dialog
      title="It broke, or nearly"
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={add.isPending || on === ''}
            onPress={() =>
              add.mutate(
                { id, treeId, place: null, on, part, gustMps, hit: hit.trim(), nearMiss, note: note.trim() },
                { onSuccess: onClose },
              )
            }
          >
            Keep
          </Button>
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <Select
        label="What broke"
        value={part}
        options={scenarioParts.map((value) => ({ value, label: partNames[value] }))}
        onChange={(word) => setPart(word)}
      />
      <Field label="On" type="date" value={on} onChange={setOn} refusal={refusalAt(refusals, 'on')} />
      <NumberField
        label="Gust, if it was measured"
        unit="m/s"
        value={gustMps}
        onChange={setGust}
        refusal={refusalAt(refusals, 'gustMps')}
      />
      <Field label="What it hit" value={hit} onChange={setHit} hint="Empty for nothing" />
      <Tick isSelected={nearMiss} onChange={setNearMiss}>
        A near miss: it might have hurt somebody
      </Tick>
      <Field label="Note" multiline value={note} onChange={setNote} />
      <Refusals title="It was not kept." refusals={refusals} />
    </Dialog>
  )
}
