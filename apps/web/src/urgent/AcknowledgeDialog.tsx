import type { Tree, UrgentNote } from '@underbough/model'
import { useState } from 'react'
import { refusalsOf, useAcknowledge } from '../api/index.ts'
import { Button, Dialog, Field, Refusals, refusalAt, sayDate, sayTime } from '../look/index.ts'
import { sayTold } from './words.ts'

const usual = [
  'A crew is on its way',
  'The place is closed',
  'The tree is being felled',
  'Looked at again: no danger now',
]

/** The office says what it did about an urgent note; then the note leaves the pages and stays on record. */
export function AcknowledgeDialog({
  note,
  tree,
  onClose,
}: {
  note: UrgentNote
  tree: Pick<Tree, 'tag' | 'species' | 'commonName'>
  onClose(): void
}) {
  const acknowledge = useAcknowledge()
  const [whatWasDone, setWhat] = useState('')
  const refusals = refusalsOf(acknowledge.error)
  return (
    <Dialog
      title={`Urgent note: ${tree.tag} ${tree.commonName ?? tree.species}`}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={!whatWasDone.trim() || acknowledge.isPending}
            onPress={() =>
              acknowledge.mutate({ id: note.id, whatWasDone: whatWasDone.trim() }, { onSuccess: onClose })
            }
          >
            Acknowledge
          </Button>
          <Button onPress={onClose}>Leave it standing</Button>
        </>
      }
    >
      <p className="prose">
        {note.personName} wrote on {sayDate(note.writtenAt.slice(0, 10))} at {sayTime(note.writtenAt)}:{' '}
        {note.keptOut ? 'people are kept out' : 'people are not kept out yet'}. Told: {sayTold(note)}.{' '}
        {note.interimClosure}
      </p>
      <Refusals
        title="The note was not acknowledged."
        refusals={refusals}
        kept="It stands on the pages as before."
      />
      <div className="urgent-usual">
        {usual.map((words) => (
          <Button key={words} kind="quiet" onPress={() => setWhat(words)}>
            {words}
          </Button>
        ))}
      </div>
      <Field
        label="What was done"
        multiline
        value={whatWasDone}
        onChange={setWhat}
        refusal={refusalAt(refusals, 'whatWasDone')}
        hint="It is kept with the note, under your name."
        isRequired
      />
    </Dialog>
  )
}
