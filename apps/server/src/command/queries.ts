import { type Session, tables } from '@underbough/db'
import { asc } from 'drizzle-orm'

const { organisation } = tables

export async function allOrganisations(session: Session) {
  return session
    .select({ id: organisation.id, name: organisation.name })
    .from(organisation)
    .orderBy(asc(organisation.name))
}
