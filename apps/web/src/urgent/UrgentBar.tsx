import { useState } from 'react'
import { type UrgentCall, useUrgentNotes } from '../api/index.ts'
import { Button, LinkButton, sayDate, sayTime } from '../look/index.ts'
import { AcknowledgeDialog } from './AcknowledgeDialog.tsx'
import './urgent.css'
import { sayTold } from './words.ts'

/**
 * Urgent notes on every page of the office until somebody there has acted: tree, who, when, what is closed. The newest first; the rest are
 * one press away. What cannot be fetched says so, for silence would look like nothing urgent.
 */
export function UrgentBar() {
  const notes = useUrgentNotes()
  const [all, setAll] = useState(false)
  const [asked, setAsked] = useState<UrgentCall | null>(null)
  if (notes.error && !notes.data)
    return (
      <section className="urgent" aria-label="Urgent notes" role="alert">
        <p>
          <b>Urgent notes cannot be fetched.</b> There may be some that are not shown. {notes.error.message}
        </p>
        <Button onPress={() => notes.refetch()}>Try again</Button>
      </section>
    )
  const calls = notes.data ?? []
  if (calls.length === 0) return null
  const shown = all ? calls : calls.slice(0, 1)
  return (
    <section className="urgent-bar" aria-label="Urgent notes" aria-live="polite">
      {shown.map((call) => (
        <Call key={call.note.id} call={call} onAct={() => setAsked(call)} />
      ))}
      {calls.length > 1 ? (
        <Button kind="quiet" className="urgent-more" aria-expanded={all} onPress={() => setAll(!all)}>
          {all ? 'Only the newest' : `${calls.length - 1} more after this one`}
        </Button>
      ) : null}
      {asked ? <AcknowledgeDialog {...asked} onClose={() => setAsked(null)} /> : null}
    </section>
  )
}

function Call({ call: { note, tree }, onAct }: { call: UrgentCall; onAct(): void }) {
  return (
    <div className="urgent">
      <p>
        <b>
          Urgent: {tree.tag} {tree.commonName ?? tree.species}.
        </b>{' '}
        {note.keptOut ? 'People are kept out.' : <b>People are not kept out yet.</b>} {note.interimClosure}{' '}
        <span className="urgent-who">
          {note.personName}, {sayDate(note.writtenAt.slice(0, 10), true)} at {sayTime(note.writtenAt)}. Told:{' '}
          {sayTold(note)}.
        </span>
      </p>
      <LinkButton to={`/trees/${tree.id}`}>The tree</LinkButton>
      <Button onPress={onAct}>Acknowledge</Button>
    </div>
  )
}
