import { type Session, tables } from '@underbough/db'
import type { Member, Organisation } from '@underbough/model'
import { asc, eq } from 'drizzle-orm'

const { authUser, membership, organisation } = tables

export async function allOrganisations(session: Session) {
  return session
    .select({ id: organisation.id, name: organisation.name })
    .from(organisation)
    .orderBy(asc(organisation.name))
}

export async function insertOrganisation(session: Session, row: Organisation) {
  await session.insert(organisation).values(row)
}

export async function insertMember(session: Session, organisationId: string, member: Member) {
  const { personId, role, qualification, qualificationExpiresOn } = member
  await session
    .insert(membership)
    .values({ organisationId, personId, role, qualification, qualificationExpiresOn })
}

export async function emailTaken(session: Session, email: string): Promise<boolean> {
  return (
    (await session.select({ id: authUser.id }).from(authUser).where(eq(authUser.email, email))).length > 0
  )
}
