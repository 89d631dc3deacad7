import { type Session, tables } from '@underbough/db'
import type { UrgentNote, UrgentNoteInput } from '@underbough/model'
import { and, desc, eq, isNull } from 'drizzle-orm'

const { authUser, urgentNote } = tables
const columns = {
  id: urgentNote.id,
  treeId: urgentNote.treeId,
  visitId: urgentNote.visitId,
  keptOut: urgentNote.keptOut,
  toldWhom: urgentNote.toldWhom,
  toldHow: urgentNote.toldHow,
  toldAt: urgentNote.toldAt,
  interimClosure: urgentNote.interimClosure,
  personName: authUser.name,
  writtenAt: urgentNote.writtenAt,
  acknowledgedBy: urgentNote.acknowledgedBy,
  acknowledgedAt: urgentNote.acknowledgedAt,
  whatWasDone: urgentNote.whatWasDone,
}
const notes = (session: Session) =>
  session
    .select(columns)
    .from(urgentNote)
    .innerJoin(authUser, eq(authUser.id, urgentNote.personId))
    .$dynamic()

export async function urgentNotes(
  session: Session,
  organisationId: string,
  openOnly: boolean,
): Promise<UrgentNote[]> {
  return notes(session)
    .where(
      and(
        eq(urgentNote.organisationId, organisationId),
        openOnly ? isNull(urgentNote.acknowledgedAt) : undefined,
      ),
    )
    .orderBy(desc(urgentNote.writtenAt))
    .limit(500)
}

export async function openNotesOfTree(
  session: Session,
  organisationId: string,
  treeId: string,
): Promise<UrgentNote[]> {
  return notes(session)
    .where(and(eq(urgentNote.organisationId, organisationId), eq(urgentNote.treeId, treeId)))
    .orderBy(desc(urgentNote.writtenAt))
}

/** A note as it was entered, with whose it is and when it was written. */
export async function noteById(session: Session, organisationId: string, id: string) {
  const { personName: _, acknowledgedBy: __, acknowledgedAt: ___, whatWasDone: ____, ...entered } = columns
  const [row] = await session
    .select({ ...entered, personId: urgentNote.personId })
    .from(urgentNote)
    .where(and(eq(urgentNote.organisationId, organisationId), eq(urgentNote.id, id)))
  return row ?? null
}

export async function insertNote(
  session: Session,
  organisationId: string,
  personId: string,
  note: UrgentNoteInput & { writtenAt: string },
) {
  await session.insert(urgentNote).values({ organisationId, personId, ...note })
}

export async function updateNote(
  session: Session,
  organisationId: string,
  id: string,
  change: Partial<typeof urgentNote.$inferInsert>,
) {
  await session
    .update(urgentNote)
    .set(change)
    .where(and(eq(urgentNote.organisationId, organisationId), eq(urgentNote.id, id)))
}

/** Marks a note as read by the office and acted on, once; false where there is none. */
export async function acknowledgeNote(
  session: Session,
  organisationId: string,
  id: string,
  done: { by: string; whatWasDone: string; at: Date },
): Promise<boolean> {
  const one = and(eq(urgentNote.organisationId, organisationId), eq(urgentNote.id, id))
  await session
    .update(urgentNote)
    .set({ acknowledgedBy: done.by, acknowledgedAt: done.at.toISOString(), whatWasDone: done.whatWasDone })
    .where(and(one, isNull(urgentNote.acknowledgedAt)))
  return (await session.select({ id: urgentNote.id }).from(urgentNote).where(one)).length > 0
}
