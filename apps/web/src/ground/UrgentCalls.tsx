import { useAcknowledge, useUrgentNotes } from '../api/index.ts'
import { Button, ErrorNote, sayDate, sayTime } from '../look/index.ts'

/** Urgent notes before anything else, until somebody in the office has acknowledged them. */
export function UrgentCalls({ onTree }: { onTree(id: string): void }) {
  const notes = useUrgentNotes()
  const acknowledge = useAcknowledge()
  if (notes.error)
    return (
      <ErrorNote
        title="Urgent notes cannot be fetched."
        error={notes.error}
        action={<Button onPress={() => notes.refetch()}>Try again</Button>}
      />
    )
  if (!notes.data?.length) return null
  const [first, ...rest] = notes.data
  const { note, tree } = first!
  return (
    <section className="urgent" aria-label="Urgent notes" aria-live="polite">
      <p>
        <b>
          Urgent: {tree.tag} {tree.commonName ?? tree.species}.
        </b>{' '}
        {note.personName}, {sayDate(note.writtenAt.slice(0, 10), true)} at {sayTime(note.writtenAt)}: told{' '}
        {note.toldWhom} {note.toldHow}. {note.keptOut ? 'People are kept out. ' : 'People are not kept out. '}
        {note.interimClosure}
        {rest.length > 0 ? <span className="q"> {rest.length} more after this one.</span> : null}
      </p>
      <Button onPress={() => onTree(tree.id)}>Show it</Button>
      <Button isDisabled={acknowledge.isPending} onPress={() => acknowledge.mutate(note.id)}>
        Acknowledge
      </Button>
    </section>
  )
}
