import type { Session } from '@underbough/db'
import type { Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { memberEver } from '../session/service.ts'

/**
 * Whose entry this is. Others' entries are taken from an officer or manager only: a phone that is handed in by somebody who has left, or
 * cannot sign in, is emptied by the office, and what is on it stays theirs.
 */
export async function authorOf(session: Session, sender: Person, authorId: string): Promise<Person> {
  if (authorId === sender.personId) return sender
  if (sender.role !== 'officer' && sender.role !== 'manager')
    refuse(
      'forbidden',
      'authorId',
      'Somebody else entered this. It is kept; its author, an officer or a manager can send it.',
    )
  return (
    (await memberEver(session, sender.organisation.id, authorId)) ??
    refuse(
      'author-unknown',
      'authorId',
      `Nobody of ${sender.organisation.name} is or was known as its author.`,
    )
  )
}
