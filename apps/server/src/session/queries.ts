import { type Session, tables } from '@underbough/db'
import type { Organisation } from '@underbough/model'
import { and, eq, isNull } from 'drizzle-orm'

const { authUser, membership, organisation } = tables

const memberships = (session: Session) =>
  session
    .select({ membership, organisation, name: authUser.name, email: authUser.email })
    .from(membership)
    .innerJoin(organisation, eq(organisation.id, membership.organisationId))
    .innerJoin(authUser, eq(authUser.id, membership.personId))
    .$dynamic()

/** The person's membership and organisation, as they stand now; none once they have left. */
export async function membershipOf(session: Session, personId: string) {
  const [row] = await memberships(session)
    .where(and(eq(membership.personId, personId), isNull(membership.endedOn)))
    .limit(1)
  return row
}

/** The membership that a person has or had in this organisation. */
export async function membershipEver(session: Session, organisationId: string, personId: string) {
  const [row] = await memberships(session).where(
    and(eq(membership.organisationId, organisationId), eq(membership.personId, personId)),
  )
  return row
}

/** The accounts of a demo organisation, to be offered at the door; none where there is no demo. */
export async function demoMembers(session: Session) {
  return session
    .select({ email: authUser.email, name: authUser.name, role: membership.role })
    .from(membership)
    .innerJoin(organisation, eq(organisation.id, membership.organisationId))
    .innerJoin(authUser, eq(authUser.id, membership.personId))
    .where(and(eq(organisation.demo, true), isNull(membership.endedOn)))
    .orderBy(authUser.name)
}

/** Everybody who belongs to the organisation now. */
export async function membersOf(session: Session, organisationId: string) {
  return session
    .select({
      personId: membership.personId,
      name: authUser.name,
      email: authUser.email,
      role: membership.role,
      qualification: membership.qualification,
      qualificationExpiresOn: membership.qualificationExpiresOn,
    })
    .from(membership)
    .innerJoin(authUser, eq(authUser.id, membership.personId))
    .where(and(eq(membership.organisationId, organisationId), isNull(membership.endedOn)))
    .orderBy(authUser.name)
}

/** An organisation by its identifier, as it stands now. Throws where there is none: its jobs and members would be orphans. */
export async function organisationById(session: Session, id: string): Promise<Organisation> {
  const [row] = await session.select().from(organisation).where(eq(organisation.id, id))
  if (!row) throw new Error(`There is no organisation ${id}`)
  const { demo: _, ...record } = row
  return record
}

/** Whether the database holds anything of anybody yet. */
export async function anyOrganisation(session: Session): Promise<boolean> {
  return (await session.select({ id: organisation.id }).from(organisation).limit(1)).length > 0
}
