import type { Session } from '@underbough/db'
import type { UrgentNoteInput } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { lockTree } from '../visits/queries.ts'
import { insertNote, noteById, updateNote } from './queries.ts'

/** Writes an urgent note ahead of its visit's closing; `writtenAt` is now unless a device says. */
export async function writeNote(
  deps: Deps,
  person: Person,
  input: UrgentNoteInput,
  writtenAt = deps.now().toISOString(),
) {
  await deps.database.transaction(async (tx) => {
    if (!(await lockTree(tx, person.organisation.id, input.treeId)))
      refuse('unknown', 'treeId', 'There is no such tree.')
    await keepNote(tx, person, input, writtenAt)
  })
}

/**
 * Keeps a note in the caller's transaction, which holds the tree's lock. It comes alone and again with its visit, in either order: the
 * same words keep the time when they were first written; other words count from when they were, and have to be read again.
 */
export async function keepNote(tx: Session, person: Person, input: UrgentNoteInput, writtenAt: string) {
  const organisationId = person.organisation.id
  const stored = await noteById(tx, organisationId, input.id)
  if (!stored) return insertNote(tx, organisationId, person.personId, { ...input, writtenAt })
  if (stored.personId !== person.personId || stored.treeId !== input.treeId)
    refuse('conflict', 'urgentNote.id', 'Another urgent note bears this identifier. Nothing was written.')
  const visitId = stored.visitId ?? input.visitId
  const older = Date.parse(writtenAt) < Date.parse(stored.writtenAt)
  if (says(stored) === says(input))
    await updateNote(tx, organisationId, input.id, { visitId, ...(older ? { writtenAt } : {}) })
  else if (!older)
    await updateNote(tx, organisationId, input.id, {
      ...input,
      visitId,
      writtenAt,
      acknowledgedBy: null,
      acknowledgedAt: null,
      whatWasDone: null,
    })
}

const says = (note: UrgentNoteInput) =>
  JSON.stringify([note.keptOut, note.toldWhom, note.toldHow, Date.parse(note.toldAt), note.interimClosure])
