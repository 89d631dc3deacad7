import { type Session, tables } from '@underbough/db'
import type { Crew, crewInput } from '@underbough/model'
import { and, eq, sql } from 'drizzle-orm'
import type { z } from 'zod'

const { crew, daySheet } = tables
type Input = z.infer<typeof crewInput>
const one = (organisationId: string, id: string) =>
  and(eq(crew.organisationId, organisationId), eq(crew.id, id))
const withoutOrganisation = ({ organisationId: _, ...row }: typeof crew.$inferSelect): Crew => row

export async function allCrews(session: Session, organisationId: string): Promise<Crew[]> {
  const rows = await session
    .select()
    .from(crew)
    .where(eq(crew.organisationId, organisationId))
    .orderBy(crew.letter, crew.name)
  return rows.map(withoutOrganisation)
}

export async function crewById(
  session: Session,
  organisationId: string,
  id: string,
): Promise<Crew | undefined> {
  const [row] = await session.select().from(crew).where(one(organisationId, id))
  return row && withoutOrganisation(row)
}

export async function insertCrew(session: Session, organisationId: string, id: string, input: Input) {
  await session.insert(crew).values({ organisationId, id, ...input })
}

/** False when the stored version is another one. */
export async function updateCrew(
  session: Session,
  organisationId: string,
  id: string,
  version: number,
  input: Input,
): Promise<boolean> {
  const rows = await session
    .update(crew)
    .set({ ...input, version: version + 1, updatedAt: sql`now()` as never })
    .where(and(one(organisationId, id), eq(crew.version, version)))
    .returning({ id: crew.id })
  return rows.length > 0
}

export async function deleteCrew(session: Session, organisationId: string, id: string) {
  await session.delete(crew).where(one(organisationId, id))
}

export async function daySheetsOf(session: Session, organisationId: string, crewId: string): Promise<number> {
  return session.$count(
    daySheet,
    and(eq(daySheet.organisationId, organisationId), eq(daySheet.crewId, crewId)),
  )
}
